import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { snapshotMessage, type SnapshotMessage } from '@blockbell/contract';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { command, look, runSession, until } from '../support/drive-session.mjs';
import { ServerProcess } from '../support/server-process.mjs';

const BLOCKBELL = fileURLToPath(new URL('../../apps/cli/bin/blockbell.js', import.meta.url));

let server: ServerProcess;

beforeEach(async () => {
  server = new ServerProcess({ BLOCKBELL_EXAMPLE: 'passing-loop' });
  await server.start();
});
afterEach(async () => {
  await server.remove();
});

type Leaving = 'kill' | 'stop';

async function again(leaving: Leaving): Promise<void> {
  await server[leaving]();
  await server.start();
}

const shown = async (): Promise<SnapshotMessage> =>
  snapshotMessage.parse(await look(server.address));

const phase = async (): Promise<string> => (await shown()).rows.session!.phase;

/** From power-up until a train moves. */
async function runUntilMoving(): Promise<void> {
  await runSession(server.address, 10);
  await until('a train moves', async () =>
    (await shown()).rows.trains!.some(({ activity }) => activity === 'moving'),
  );
}

/** Calls that trains have arrived at. */
async function arrivals(): Promise<number> {
  const { runs } = (await shown()).rows;
  return runs!.flatMap(({ calls }) => calls).filter(({ arrived }) => arrived !== null).length;
}

const logText = async (): Promise<string> =>
  (await shown()).rows.log!.map(({ text }) => text).join('\n');

test.each(['kill', 'stop'] as const)(
  'in the middle of running trains, %s: the session is held, lined up, resumed and goes on',
  async (leaving) => {
    await runUntilMoving();
    const before = await shown();
    await again(leaving);

    const { epoch, rows } = await shown();
    expect([before.epoch, epoch]).toEqual(['session-1.1', 'session-1.2']);
    expect(rows.session).toMatchObject({ phase: 'powerless' });
    expect(await logText()).toContain('the server was started again during the session');
    expect(rows.trains!.every(({ confirmed }) => !confirmed)).toBe(true);
    expect(rows.lineUp!.map(({ status }) => status)).not.toContain('confirmed');
    expect(rows.lineUp).toHaveLength(rows.trains!.length);
    expect(rows.trains!.every(({ activity }) => activity !== 'moving')).toBe(true);
    // The ways that trains held are held for them still.
    const held = rows.elements!.filter(({ holder }) => holder >= 0);
    expect(held.length).toBeGreaterThanOrEqual(rows.trains!.length);

    await runSession(server.address, 30);
    const arrived = await arrivals();
    await until('a train arrives', async () => (await arrivals()) > arrived);

    await server.stop();
    const replayed = await promisify(execFile)(process.execPath, [
      BLOCKBELL,
      'replay',
      '--data',
      server.folder,
    ]);
    expect(replayed.stderr).toBe('');
    expect(replayed.stdout).toMatch(/^Run 1: \d+ inputs .* every effect the same; /m);
    expect(replayed.stdout).toMatch(/^Run 2: .* every effect the same; ends in the stored state /m);
  },
);

test('killed during the line-up, and twice in a row: held again, and run at last', async () => {
  await command(server.address, { kind: 'power-up' });
  // Detection has settled, and what came before that is long written down.
  await until('a place is confirmed', async () =>
    (await shown()).rows.trains!.some(({ confirmed }) => confirmed),
  );
  await again('kill');
  await again('kill');
  expect((await shown()).epoch).toBe('session-1.3');
  expect(await phase()).toBe('powerless');
  await runUntilMoving();
  await again('kill');
  await again('kill');
  expect(await phase()).toBe('powerless');
  await runUntilMoving();
});

test('killed before power-up, the session is as it was', async () => {
  await again('kill');
  expect(await phase()).toBe('set-up');
  await runSession(server.address, 1);
});

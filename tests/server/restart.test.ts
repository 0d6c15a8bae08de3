import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { ServerOnFolder } from '../support/server-on-folder.js';

const BLOCKBELL = fileURLToPath(new URL('../../apps/cli/bin/blockbell.js', import.meta.url));

let folder: string;
let server: ServerOnFolder;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'blockbell-restart-'));
  server = await ServerOnFolder.start(folder);
});
afterEach(async () => {
  await server.end('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

async function again(signal: 'SIGKILL' | 'SIGTERM'): Promise<void> {
  await server.end(signal);
  server = await ServerOnFolder.start(folder);
}

/** At least so many trains move. */
const moving = (count: number) =>
  expect
    .poll(
      async () =>
        (await server.shown()).rows.trains!.filter(({ activity }) => activity === 'moving').length,
      {
        timeout: 60_000,
        interval: 100,
      },
    )
    .toBeGreaterThanOrEqual(count);

/** Calls that trains have arrived at. */
async function arrivals(): Promise<number> {
  const { runs } = (await server.shown()).rows;
  return runs!.flatMap(({ calls }) => calls).filter(({ arrived }) => arrived !== null).length;
}

const logText = async (): Promise<string> =>
  (await server.shown()).rows.log!.map(({ text }) => text).join('\n');

test.each(['SIGKILL', 'SIGTERM'] as const)(
  'in the middle of running trains, %s: the session is held, lined up, resumed and goes on',
  async (signal) => {
    await server.run();
    await server.setPace(10);
    await moving(1);
    const before = await server.shown();
    await again(signal);

    const { epoch, rows } = await server.shown();
    expect([before.epoch, epoch]).toEqual(['session-1.1', 'session-1.2']);
    expect(rows.session).toMatchObject({ phase: 'powerless' });
    expect(await logText()).toContain('the server was started again during the session');
    expect(rows.trains!.every(({ confirmed }) => !confirmed)).toBe(true);
    expect(rows.lineUp!.map(({ status }) => status)).not.toContain('confirmed');
    expect(rows.lineUp).toHaveLength(rows.trains!.length);
    expect(rows.trains!.every(({ activity }) => activity !== 'moving')).toBe(true);
    // The ways that trains held are held for them still.
    const held = (shown: typeof before) =>
      shown.rows.elements!.filter(({ holder }) => holder >= 0).length;
    expect(held({ ...before, rows })).toBeGreaterThanOrEqual(rows.trains!.length);

    await server.run();
    const arrived = await arrivals();
    await server.setPace(30);
    await expect.poll(arrivals, { timeout: 90_000, interval: 200 }).toBeGreaterThan(arrived);

    await server.end('SIGTERM');
    const replayed = await promisify(execFile)(process.execPath, [
      BLOCKBELL,
      'replay',
      '--data',
      folder,
    ]);
    expect(replayed.stderr).toBe('');
    expect(replayed.stdout).toMatch(/^Run 1: \d+ inputs .* every effect the same; /m);
    expect(replayed.stdout).toMatch(/^Run 2: .* every effect the same; ends in the stored state /m);
  },
);

test('killed during the line-up, and twice in a row: held again, and run at last', async () => {
  await server.give('power-up');
  // Detection has settled, and what came before that is long written down.
  const isConfirmed = async () => (await server.shown()).rows.trains!.some((it) => it.confirmed);
  await expect.poll(isConfirmed, { timeout: 30_000, interval: 100 }).toBe(true);
  await again('SIGKILL');
  await again('SIGKILL');
  expect((await server.shown()).epoch).toBe('session-1.3');
  expect(await server.phase()).toBe('powerless');
  await server.run();
  await server.setPace(10);
  await moving(1);
  await again('SIGKILL');
  await again('SIGKILL');
  expect(await server.phase()).toBe('powerless');
  await server.run();
  await server.setPace(10);
  await moving(1);
});

test('killed before power-up, the session is as it was', async () => {
  await again('SIGKILL');
  expect(await server.phase()).toBe('set-up');
  await server.run();
});

import { EVENTS, type CommandMessage } from '@blockbell/contract';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { startOpenServer } from '../testing/open-server.js';
import { serverOfFile } from '../testing/server-of-file.js';
import type { TestBoard } from '../testing/test-board.js';
import { SessionService } from '../session/session.service.js';

type Command = CommandMessage['command'];

const server = serverOfFile(startOpenServer, 120_000);
let dora: TestBoard;
let dirk: TestBoard;

/** Gives a command by the picture that the board shows. */
const give = (board: TestBoard, command: Command): Promise<unknown> => {
  const { epoch, revision } = board.picture!;
  return board.ask(EVENTS.command, { by: 'x', command, seen: { epoch, revision } });
};

/** Gives commands of two boards, each by the picture it shows now, at the same time. */
const both = (one: Command, other: Command): Promise<unknown[]> =>
  Promise.all([give(dora, one), give(dirk, other)]);

/** The index of a block of the small example. */
function block(id: string): number {
  const { layout } = server.app.get(SessionService).files().world;
  return layout.elements.findIndex((element) => element.id === id);
}

/** Both trains lined up and the session running, with departures held, so that nothing moves by itself. */
beforeEach(async () => {
  const builder = { Cookie: server.cookies.bea };
  await server.post('/api/session/command', { by: 'x', command: { kind: 'cut-power' } }, builder);
  await server.post('/api/session', { by: 'x', example: 'passing-loop' }, builder);
  dora = await server.board(server.cookies.dora);
  dirk = await server.board(server.cookies.dirk);
  const done = async (command: Command): Promise<void> => {
    expect(await dora.ask(EVENTS.command, { by: 'x', command })).toEqual({ ok: true });
  };
  await done({ kind: 'hold-departures', hold: true });
  await dora.ask(EVENTS.pace, { by: 'x', pace: 60 });
  await done({ kind: 'power-up' });
  await dora.until(({ picture }) => {
    const { session, lineUp } = picture!.rows;
    return (
      session?.phase === 'line-up' &&
      session.why === null &&
      lineUp!.every(({ status }) => status === 'ask' || status === 'confirmed')
    );
  });
  for (const { train, heading, status } of dora.picture!.rows.lineUp!)
    if (status === 'ask') await done({ kind: 'confirm-place', train, heading });
  for (;;) {
    const answer = await dora.ask(EVENTS.command, { by: 'x', command: { kind: 'start' } });
    if ((answer as { ok: boolean }).ok) break;
    const { code } = (answer as { refusal: { code: string } }).refusal;
    if (!/searching|being-proven|not-settled/.test(code)) throw new Error(`not started: ${code}`);
  }
  await dora.ask(EVENTS.pace, { by: 'x', pace: 1 });
  for (const board of [dora, dirk])
    await board.until(
      ({ picture }) =>
        picture!.rows.session?.phase === 'running' && picture!.rows.session.pace === 1,
    );
});
afterEach(() => {
  for (const { socket } of [dora, dirk]) socket.disconnect();
});

/** One was done and the other refused; returns the refusal with the name of the winner. */
function settled(answers: readonly unknown[]): {
  code: string;
  text: string;
  winner: string;
  loser: string;
} {
  const [doras, dirks] = answers as { ok: boolean; refusal?: { code: string; text: string } }[];
  expect([doras!.ok, dirks!.ok].sort()).toEqual([false, true]);
  const refusal = (doras!.ok ? dirks!.refusal : doras!.refusal)!;
  return {
    ...refusal,
    ...(doras!.ok ? { winner: 'dora', loser: 'dirk' } : { winner: 'dirk', loser: 'dora' }),
  };
}

test('two routes to the same block for two trains: one is set, the other told who was first', async () => {
  const target = block('P1');
  const { code, text, winner } = settled(
    await both(
      { kind: 'set-route', train: 0, block: target },
      { kind: 'set-route', train: 1, block: target },
    ),
  );
  expect(code).toBe('too-late');
  const label = winner === 'dora' ? '3' : '1047';
  expect(text).toMatch(
    new RegExp(
      `^${winner} set a route for ${label} to .+ a moment ago, before your command came; look again\\.$`,
    ),
  );
});

test('whoever asks later, with the route in sight, is told who set it', async () => {
  const target = block('P1');
  expect(await give(dora, { kind: 'set-route', train: 0, block: target })).toEqual({ ok: true });
  await dirk.until(({ picture }) =>
    picture!.rows.log!.some(({ text }) => text.includes('set route')),
  );
  expect(await give(dirk, { kind: 'set-route', train: 1, block: target })).toMatchObject({
    ok: false,
    refusal: {
      code: 'element-held',
      text: expect.stringMatching(/ is held for 3\. dora set a route for 3 to .+ a moment ago\.$/),
    },
  });
});

test('a route set and the way given back at the same time: one is done, the other looks again', async () => {
  expect(await give(dora, { kind: 'set-route', train: 0, block: block('L1') })).toEqual({
    ok: true,
  });
  for (const board of [dora, dirk])
    await board.until(({ picture }) =>
      picture!.rows.log!.some(({ text }) => text.includes('set route')),
    );
  const { text, winner } = settled(
    await both(
      { kind: 'set-route', train: 0, block: block('P1') },
      { kind: 'give-back-route', train: 0 },
    ),
  );
  expect(text).toMatch(
    winner === 'dora'
      ? /^dora set a route for 3 to .+ a moment ago, before your command came; look again\.$/
      : /^dirk gave the way of 3 back a moment ago, before your command came; look again\.$/,
  );
});

test('both take one train in hand: one drives, the other is told who does', async () => {
  const take: Command = { kind: 'take-in-hand', train: 1, take: true };
  const { text, winner, loser } = settled(await both(take, take));
  expect(text).toContain(`${winner} took 1047 in hand a moment ago`);
  const second = winner === 'dora' ? dirk : dora;
  await second.until(({ picture }) => picture!.rows.trains![1]!.handSpeed !== null);
  expect(await give(second, take)).toMatchObject({
    refusal: {
      code: 'in-hand',
      text: `1047 is in hand already; who drives it must give it back first. ${winner} took 1047 in hand a moment ago.`,
    },
  });
  expect(loser).not.toBe(winner);
});

test('both pause: the second is told that it is paused, and by whom', async () => {
  const { code, text, winner } = settled(await both({ kind: 'pause' }, { kind: 'pause' }));
  expect(code).toBe('not-running');
  expect(text).toBe(`The session is not running. ${winner} paused the session a moment ago.`);
});

test('holding a train and stopping all is done for both, whoever was first', async () => {
  for (const command of [
    { kind: 'hold-train', train: 0, hold: true },
    { kind: 'stop-all' },
  ] satisfies Command[])
    expect(await both(command, command)).toEqual([{ ok: true }, { ok: true }]);
});

test('one and the same person, on two boards, is not in conflict with themself', async () => {
  const other = await server.board(server.cookies.dora);
  const answers = await Promise.all([
    give(dora, { kind: 'set-route', train: 0, block: block('L1') }),
    give(other, { kind: 'give-back-route', train: 0 }),
  ]);
  for (const answer of answers) expect(answer).not.toMatchObject({ refusal: { code: 'too-late' } });
});

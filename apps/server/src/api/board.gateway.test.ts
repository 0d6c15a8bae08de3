import { EVENTS, snapshotMessage } from '@blockbell/contract';
import { io, type Socket } from 'socket.io-client';
import { afterEach, expect, test } from 'vitest';
import { serverOfFile } from '../testing/server-of-file.js';
import { TestBoard } from '../testing/test-board.js';
import { startTestServer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);
const open: Socket[] = [];
afterEach(() => {
  for (const socket of open.splice(0)) socket.disconnect();
});

async function connect(options: Parameters<typeof io>[1] = {}): Promise<TestBoard> {
  const board = new TestBoard(io(server.address, { forceNew: true, ...options }));
  open.push(board.socket);
  await board.until(({ picture }) => picture !== null);
  return board;
}

const give = (command: object): object => ({ by: 'Ann', command });

test('a snapshot on connecting, then deltas that lead to what the server shows', async () => {
  const board = await connect();
  expect(board.picture?.rows.session?.phase).toBe('set-up');
  expect(await board.ask(EVENTS.command, give({ kind: 'power-up' }))).toEqual({ ok: true });
  await board.until(({ picture }) =>
    picture!.rows.lineUp!.every(({ status }) => status === 'confirmed' || status === 'ask'),
  );
  await new Promise((resolve) => setTimeout(resolve, 1_500));
  expect(board.snapshots).toBe(1);
  expect(board.deltas).toBeGreaterThan(0);
  const { body } = await server.get('/api/session');
  expect(board.picture!.rows).toEqual(snapshotMessage.parse(body).rows);
});

test('two boards see the same', async () => {
  const [one, two] = [await connect(), await connect({ transports: ['websocket'] })];
  expect(await two.ask(EVENTS.pace, { by: 'Ben', pace: 4 })).toEqual({ ok: true });
  await one.until(({ picture }) => picture!.rows.session?.pace === 4);
  await two.until(({ picture }) => picture!.rows.session?.pace === 4);
  expect(one.picture!.rows.log!.at(-1)?.text).toContain('Ben');
});

test('asking anew brings a snapshot', async () => {
  const board = await connect();
  expect(await board.ask(EVENTS.resync)).toEqual({ ok: true });
  await board.until(({ snapshots }) => snapshots === 2);
});

test.each([
  ['nothing', undefined],
  ['a text', 'start'],
  ['a list', [1, 2]],
  ['no name', { command: { kind: 'start' } }],
  ['an unknown command', give({ kind: 'fly' })],
  ['a train below 0', give({ kind: 'release-train', train: -1 })],
])('a command that is %s is answered with what is wrong', async (_, message) => {
  const board = await connect();
  for (const event of [EVENTS.command, EVENTS.pace])
    expect(await board.ask(event, message)).toMatchObject({
      ok: false,
      refusal: { code: 'bad-message', text: expect.stringContaining('not as described') },
    });
});

test('a refusal of the session reaches the one who asked', async () => {
  const board = await connect();
  expect(await board.ask(EVENTS.command, give({ kind: 'release-train', train: 99 }))).toMatchObject(
    { ok: false, refusal: { code: 'unknown-number' } },
  );
});

test('nonsense does not end the session', async () => {
  const board = await connect();
  board.socket.emit(EVENTS.command);
  board.socket.emit(EVENTS.command, null, undefined, {});
  board.socket.emit('unknown-event', { deep: [{}] });
  board.socket.emit(EVENTS.resync, 'x', 'y');
  expect((await server.get('/api/health')).status).toBe(200);
  expect(await board.ask(EVENTS.resync)).toEqual({ ok: true });
});

test.each([
  ['another site', 'websocket', { Origin: 'https://trains.example' }],
  ['another site', 'polling', { Origin: 'https://trains.example' }],
  ['nowhere', 'websocket', { Origin: 'null' }],
  ['nowhere', 'polling', { Origin: 'null' }],
  // The client's polling always names the host it connects to.
  ['a foreign name', 'websocket', { Host: 'trains.example' }],
])('a socket from %s over %s is refused', async (_, transport, extraHeaders) => {
  const options = { forceNew: true, reconnection: false, transports: [transport], extraHeaders };
  const socket = io(server.address, options);
  open.push(socket);
  const outcome = await new Promise<string>((resolve) => {
    socket.on('connect', () => resolve('connected'));
    socket.on('connect_error', () => resolve('refused'));
  });
  expect(outcome).toBe('refused');
});

test('when another session begins, boards that look on get its snapshot', async () => {
  const board = await connect();
  const before = board.picture!.epoch;
  expect(await board.ask(EVENTS.command, give({ kind: 'cut-power' }))).toEqual({ ok: true });
  const begun = await server.post('/api/session', { by: 'Ann', example: 'passing-loop' });
  expect(begun).toEqual({ status: 201, body: { ok: true } });
  await board.until(({ picture }) => picture!.epoch !== before);
  expect(board.picture!.rows.session?.phase).toBe('set-up');
});

import { exampleFiles } from '@blockbell/examples';
import { EVENTS, LEAVE, type Act, type CommandMessage, type Role } from '@blockbell/contract';
import { beforeAll, describe, expect, test } from 'vitest';
import { NAMES, PASSPHRASE, startOpenServer, type Name } from '../testing/open-server.js';
import { serverOfFile } from '../testing/server-of-file.js';
import type { TestBoard } from '../testing/test-board.js';

type Command = CommandMessage['command'];

const server = serverOfFile(startOpenServer, 120_000);
const boards = new Map<Name, TestBoard>();

const COMMANDS: readonly Command[] = [
  { kind: 'set-route', train: 0, block: 0 },
  { kind: 'give-back-route', train: 0 },
  { kind: 'confirm-place', train: 0, heading: 0 },
  { kind: 'confirm-absent', train: 0 },
  { kind: 'confirm-clear', block: 0 },
  { kind: 'declare-identity', block: 0, train: 0 },
  { kind: 'start' },
  { kind: 'pause' },
  { kind: 'resume' },
  { kind: 'hold-departures', hold: true },
  { kind: 'set-clock-ratio', ratio: 6 },
  { kind: 'end-session' },
  { kind: 'acknowledge-alarm', alarm: 0 },
  { kind: 'take-in-hand', train: 0, take: true },
  { kind: 'drive', train: 0, speed: 0 },
  { kind: 'turn-round', train: 0 },
  { kind: 'release-train', train: 0 },
  { kind: 'hold-train', train: 0, hold: true },
  { kind: 'power-up' },
  { kind: 'stop-all' },
  { kind: 'cut-power' },
];

/** Nobody's crew, crew of train 0, and so on. */
const ASKERS: readonly Name[] = ['vera', 'carl', 'cleo', 'dora', 'bea'];

beforeAll(async () => {
  for (const name of ASKERS) boards.set(name, await server.board(server.cookies[name]));
  // Carl drives train 0, Cleo train 1.
  for (const [train, crew] of [
    [0, 'carl'],
    [1, 'cleo'],
  ] as const)
    await boards.get('dora')!.ask(EVENTS.crew, { by: 'x', train, crew });
}, 120_000);

const COLUMNS: readonly Role[] = ['visitor', 'crew', 'dispatcher', 'builder'];

function isAllowed(name: Name, act: Act): boolean {
  const leave = LEAVE[act][COLUMNS.indexOf(NAMES[name])];
  return leave === 'yes' || (leave === 'own' && name === 'carl');
}

const refusedForRole = { ok: false, refusal: { code: 'not-allowed' } };

describe.each(ASKERS)('%s', (name) => {
  test.each(COMMANDS)('is let or refused over the socket and over HTTP: $kind', async (command) => {
    const allowed = isAllowed(name, command.kind);
    const answer = await boards.get(name)!.ask(EVENTS.command, { by: 'Somebody else', command });
    const posted = await server.post(
      '/api/session/command',
      { by: 'Somebody else', command },
      { Cookie: server.cookies[name] },
    );
    if (allowed) {
      expect(answer).not.toMatchObject(refusedForRole);
      expect(posted.status).not.toBe(403);
    } else {
      expect(answer).toMatchObject(refusedForRole);
      expect(posted).toMatchObject({ status: 403, body: refusedForRole });
      const { text } = (answer as { refusal: { text: string } }).refusal;
      expect(text).toMatch(/^A (visitor|crew|dispatcher) .*dispatcher/);
    }
  });

  test('is let or refused what is no command', async () => {
    const Cookie = server.cookies[name];
    const statusOf = async (act: Act, asked: Promise<{ status: number }>): Promise<void> => {
      const { status } = await asked;
      expect({ act, refused: status === 403 }).toEqual({ act, refused: !isAllowed(name, act) });
    };
    const pace = { by: 'x', pace: 1 };
    await statusOf('set-pace', server.post('/api/session/pace', pace, { Cookie }));
    await statusOf(
      'store-file',
      server.post('/api/files', exampleFiles('passing-loop').layout, { Cookie }),
    );
    await statusOf('summarise', server.get('/api/sessions/999/summary', { Cookie }));
    await statusOf(
      'begin-session',
      server.post('/api/session', { by: 'x', example: 'moon' }, { Cookie }),
    );
    await statusOf('see-people', server.get('/api/people', { Cookie }));
    const nobody = { name: 'dora', role: 'crew', passphrase: PASSPHRASE };
    await statusOf('manage-people', server.post('/api/people', nobody, { Cookie }));
    await statusOf(
      'manage-people',
      server.send('PATCH', '/api/people/999', { role: 'crew' }, { Cookie }),
    );
    await statusOf('manage-people', server.send('DELETE', '/api/people/999', {}, { Cookie }));
    if (!isAllowed(name, 'set-pace'))
      expect(await boards.get(name)!.ask(EVENTS.pace, pace)).toMatchObject(refusedForRole);
  });

  test('sees the session and its files', async () => {
    const Cookie = server.cookies[name];
    for (const path of ['/api/session', '/api/session/files', '/api/files', '/api/examples'])
      expect((await server.get(path, { Cookie })).status).toBe(200);
    expect(boards.get(name)!.picture?.rows.trains?.length).toBe(2);
  });
});

test('a command stands in the name of who is signed in, whatever the message says', async () => {
  const board = boards.get('dora')!;
  expect(await board.ask(EVENTS.pace, { by: 'Somebody else', pace: 3 })).toEqual({ ok: true });
  await board.until(({ picture }) => picture!.rows.log!.some(({ text }) => text.includes('×3')));
  const texts = board.picture!.rows.log!.map(({ text }) => text);
  expect(texts).toContain('dora set the pace of the simulated time to ×3.');
  expect(texts.join()).not.toContain('Somebody else');
});

test('a refused crew is told that its own train is meant', async () => {
  expect(
    await boards.get('cleo')!.ask(EVENTS.command, {
      by: 'x',
      command: { kind: 'hold-train', train: 0, hold: true },
    }),
  ).toMatchObject({
    refusal: {
      text: 'A crew drives its own train and no other; to hold a train or let it go is otherwise for a dispatcher.',
    },
  });
});

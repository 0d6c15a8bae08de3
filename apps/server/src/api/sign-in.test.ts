import { EVENTS, NOT_SIGNED_IN, whoView } from '@blockbell/contract';
import { io } from 'socket.io-client';
import { expect, test } from 'vitest';
import { Entrance } from '../people/entrance.js';
import { cookieOf, PASSPHRASE, startOpenServer, type Name } from '../testing/open-server.js';
import { serverOfFile } from '../testing/server-of-file.js';
import { temporaryFolder } from '../testing/temporary-folder.js';
import { startTestServer } from '../testing/test-server.js';

const server = serverOfFile(startOpenServer, 120_000);

const who = async (Cookie?: string) =>
  whoView.parse((await server.get('/api/sign-in', Cookie === undefined ? {} : { Cookie })).body);

/** Whether a socket is let in, or why not. */
function knock(headers: Record<string, string>): Promise<string> {
  const socket = io(server.address, { forceNew: true, reconnection: false, extraHeaders: headers });
  return new Promise<string>((resolve) => {
    socket.on('connect', () => resolve('connected'));
    socket.on('connect_error', ({ message }) => resolve(message));
  }).finally(() => socket.disconnect());
}

test('a server for this machine only knows no sign-in, and its sockets let everybody in', async () => {
  const own = temporaryFolder();
  const closed = await startTestServer(own.path);
  expect((await closed.get('/api/sign-in')).body).toEqual({
    ok: true,
    signIn: false,
    firstSignUp: false,
    person: null,
  });
  expect(closed.app.get(Entrance).firstCode).toBeNull();
  await closed.close();
  own.remove();
});

test('the first builder signs up with the printed code, once', async () => {
  const own = temporaryFolder();
  const fresh = await startTestServer(own.path, true);
  const code = fresh.app.get(Entrance).firstCode!;
  expect(code).toMatch(/^[A-Z2-9]{5}-[A-Z2-9]{5}$/);
  expect((await fresh.get('/api/sign-in')).body).toMatchObject({ signIn: true, firstSignUp: true });
  const ann = { name: 'Ann', passphrase: PASSPHRASE };
  expect(await fresh.post('/api/sign-in/first', { ...ann, code: 'AAAAA-AAAAA' })).toMatchObject({
    status: 401,
    body: { refusal: { code: 'wrong-code' } },
  });
  const typed = code.toLowerCase().replace('-', ' ');
  const entered = await fresh.post('/api/sign-in/first', { ...ann, code: typed });
  expect(entered).toMatchObject({
    status: 200,
    body: { person: { name: 'Ann', role: 'builder' } },
  });
  expect(fresh.app.get(Entrance).firstCode).toBeNull();
  expect(await fresh.post('/api/sign-in/first', { ...ann, name: 'Eve', code })).toMatchObject({
    status: 409,
    body: { refusal: { code: 'not-first' } },
  });
  await fresh.close();

  const again = await startTestServer(own.path, true);
  expect(again.app.get(Entrance).firstCode).toBeNull();
  expect((await again.get('/api/sign-in', { Cookie: cookieOf(entered) })).body).toMatchObject({
    person: { name: 'Ann' },
  });
  await again.close();
  own.remove();
});

test('the cookie is out of reach of scripts and of other sites', async () => {
  const { cookie } = await server.post('/api/sign-in', { name: 'vera', passphrase: PASSPHRASE });
  expect(cookie).toMatch(/; HttpOnly/);
  expect(cookie).toMatch(/; SameSite=Strict/);
  expect(cookie).toMatch(/; Path=\//);
  expect(cookie).toMatch(/; Max-Age=604800/);
  expect(cookie).not.toMatch(/Domain/i);
});

test('nobody is let to the session, by address or by socket, without being signed in', async () => {
  for (const Cookie of ['', 'blockbell-sign-in=', 'blockbell-sign-in=AAAA', 'other=1']) {
    for (const path of [
      '/api/session',
      '/api/session/files',
      '/api/files',
      '/api/people',
      '/api/sessions',
    ])
      expect(await server.get(path, { Cookie })).toMatchObject({
        status: 401,
        body: { ok: false, refusal: { code: 'not-signed-in' } },
      });
    expect(
      await server.post(
        '/api/session/command',
        { by: 'x', command: { kind: 'stop-all' } },
        { Cookie },
      ),
    ).toMatchObject({ status: 401 });
    expect(await knock({ Cookie })).toBe(NOT_SIGNED_IN);
  }
  expect((await server.get('/api/health')).status).toBe(200);
  expect(await who('blockbell-sign-in=AAAA')).toMatchObject({ signIn: true, person: null });
});

test('a page of another site is not let in with the cookie', async () => {
  const Cookie = server.cookies.dora;
  const Origin = 'https://trains.example';
  expect(await knock({ Cookie, Origin })).not.toBe('connected');
  expect(
    await server.post(
      '/api/session/command',
      { by: 'x', command: { kind: 'stop-all' } },
      { Cookie, Origin },
    ),
  ).toMatchObject({ status: 403, body: { refusal: { code: 'foreign-origin' } } });
});

test('a wrong passphrase and a name nobody has are refused alike', async () => {
  const answers = [
    await server.post('/api/sign-in', { name: 'vera', passphrase: 'not this one' }),
    await server.post('/api/sign-in', { name: 'nobody', passphrase: 'not this one' }),
  ];
  for (const { status, body, cookie } of answers)
    expect({ status, body, cookie }).toEqual({
      status: 401,
      body: {
        ok: false,
        refusal: { code: 'wrong-passphrase', text: 'The name or the passphrase is not right.' },
      },
      cookie: undefined,
    });
});

test('signing out ends it for good, and closes the board', async () => {
  const Cookie = await server.signIn('dirk');
  const board = await server.board(Cookie);
  const closed = new Promise<string>((resolve) => board.socket.once('disconnect', resolve));
  const out = await server.post('/api/sign-in/out', {}, { Cookie });
  expect(out.cookie).toMatch(/Max-Age=0/);
  expect(await closed).toBe('io server disconnect');
  expect(await who(Cookie)).toMatchObject({ person: null });
  expect(await knock({ Cookie })).toBe(NOT_SIGNED_IN);
  // Elsewhere the same person stays signed in.
  expect(await who(server.cookies.dirk)).toMatchObject({ person: { name: 'dirk' } });
});

const idOf = async (name: Name): Promise<number> => {
  const { body } = await server.get('/api/people', { Cookie: server.cookies.bea });
  return (body as { people: { id: number; name: string }[] }).people.find(
    (person) => person.name === name,
  )!.id;
};

test('another role counts at once, and the board is connected anew', async () => {
  const Cookie = await server.signIn('dirk');
  const board = await server.board(Cookie);
  const closed = new Promise((resolve) => board.socket.once('disconnect', resolve));
  const builder = { Cookie: server.cookies.bea };
  const path = `/api/people/${await idOf('dirk')}`;
  expect(await server.send('PATCH', path, { role: 'visitor' }, builder)).toMatchObject({
    status: 200,
    body: { person: { name: 'dirk', role: 'visitor' } },
  });
  await closed;
  const again = await server.board(Cookie);
  expect(await again.ask(EVENTS.command, { by: 'x', command: { kind: 'stop-all' } })).toMatchObject(
    { refusal: { code: 'not-allowed' } },
  );
});

test('a new passphrase ends every sign-in by the old one', async () => {
  const builder = { Cookie: server.cookies.bea };
  const path = `/api/people/${await idOf('cleo')}`;
  const passphrase = 'another lamp at the signal';
  expect((await server.send('PATCH', path, { passphrase }, builder)).status).toBe(200);
  expect(await who(server.cookies.cleo)).toMatchObject({ person: null });
  expect(await server.post('/api/sign-in', { name: 'cleo', passphrase })).toMatchObject({
    status: 200,
  });
});

test('who is removed is out, and their board is closed', async () => {
  const board = await server.board(server.cookies.carl);
  const closed = new Promise((resolve) => board.socket.once('disconnect', resolve));
  const builder = { Cookie: server.cookies.bea };
  const path = `/api/people/${await idOf('carl')}`;
  expect((await server.send('DELETE', path, {}, builder)).status).toBe(200);
  await closed;
  expect(await who(server.cookies.carl)).toMatchObject({ person: null });
  expect((await server.send('DELETE', path, {}, builder)).status).toBe(404);
});

test('the only builder can be neither removed nor given another role', async () => {
  const builder = { Cookie: server.cookies.bea };
  const path = `/api/people/${await idOf('bea')}`;
  for (const asked of [
    server.send('DELETE', path, {}, builder),
    server.send('PATCH', path, { role: 'dispatcher' }, builder),
  ])
    expect(await asked).toMatchObject({ status: 409, body: { refusal: { code: 'last-builder' } } });
});

test('a name is given once, whatever the case of its letters', async () => {
  const dora = { name: 'DORA', role: 'crew', passphrase: PASSPHRASE };
  expect(await server.post('/api/people', dora, { Cookie: server.cookies.bea })).toMatchObject({
    status: 409,
    body: { refusal: { code: 'name-taken' } },
  });
});

test('who guesses has to wait, even with the right passphrase', async () => {
  let answer = { status: 401, body: {} as unknown };
  for (let tried = 0; tried < 8 && answer.status === 401; tried++)
    answer = await server.post('/api/sign-in', { name: 'vera', passphrase: `guess ${tried}` });
  expect(answer).toMatchObject({
    status: 429,
    body: { refusal: { code: 'too-many-tries', text: expect.stringMatching(/wait \d+ seconds?/) } },
  });
  expect(await server.post('/api/sign-in', { name: 'vera', passphrase: PASSPHRASE })).toMatchObject(
    {
      status: 429,
    },
  );
});

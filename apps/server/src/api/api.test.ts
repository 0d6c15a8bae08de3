import { readFileSync } from 'node:fs';
import { exampleFiles } from '@blockbell/examples';
import { snapshotMessage } from '@blockbell/contract';
import { expect, test } from 'vitest';
import { describeApi } from './openapi.js';
import { startTestServer } from '../testing/test-server.js';
import { serverOfFile } from '../testing/server-of-file.js';

const server = serverOfFile(startTestServer);

const json = (text: string): Record<string, unknown> => JSON.parse(text) as Record<string, unknown>;
const small = exampleFiles('passing-loop');

test('health names the session and how engine and journal do', async () => {
  expect(await server.get('/api/health')).toEqual({
    status: 200,
    body: {
      ok: true,
      session: 'session-1.1',
      engine: 'running',
      journal: 'written',
      memory: { resident: expect.any(Number), heap: expect.any(Number) },
    },
  });
});

test('the session is shown whole, as the contract says', async () => {
  const { status, body } = await server.get('/api/session');
  expect(status).toBe(200);
  expect(snapshotMessage.parse(body).rows.session).toMatchObject({ phase: 'set-up', pace: 1 });
});

test('the session’s files are those of the example', async () => {
  const { body } = await server.get('/api/session/files');
  expect(body).toEqual({
    session: 'session-1',
    layout: json(small.layout),
    stock: json(small.stock),
    timetable: json(small.timetable),
    places: {},
  });
});

test('stored files are listed and given back by hash', async () => {
  const { body } = await server.get('/api/files');
  const list = JSON.parse(String(body)) as { hash: string; kind: string; layout: unknown }[];
  expect(list.map(({ kind }) => kind).sort()).toEqual(['layout', 'stock', 'timetable']);
  for (const { hash, kind, layout } of list) {
    const file = await server.get(`/api/files/${hash}`);
    expect(file.body).toMatchObject({ kind: `blockbell-${kind}` });
    expect(layout).toBe(kind === 'stock' ? null : json(small.layout)['id']);
  }
});

test('a sound file is kept; keeping it again changes nothing', async () => {
  const layout = { ...json(small.layout), name: 'Loop renamed' };
  const first = await server.post('/api/files', layout);
  expect(first).toMatchObject({
    status: 201,
    body: { ok: true, file: { kind: 'layout', name: 'Loop renamed' } },
  });
  expect(await server.post('/api/files', layout)).toEqual(first);
});

test('a faulty file is refused with every fault, its place and its mend', async () => {
  const layout = json(small.layout);
  const elements = (layout['elements'] as object[]).map((element, index) =>
    index < 2 ? { ...element, id: '1 wrong' } : element,
  );
  const { status, body } = await server.post('/api/files', { ...layout, elements });
  expect(status).toBe(422);
  expect(body).toMatchObject({ ok: false, refusal: { code: 'faulty-file' } });
  const { faults } = body as { faults: { place: string; text: string; mend: string }[] };
  expect(faults.length).toBeGreaterThanOrEqual(2);
  for (const fault of faults)
    expect(fault).toMatchObject({
      place: expect.stringMatching(/./),
      text: expect.stringMatching(/./),
      mend: expect.stringMatching(/./),
    });
});

const command = '/api/session/command';
const give = (kind: object): object => ({ by: 'Ann', command: kind });

/** Path, body, expected status and code. */
const BAD: readonly [string, string, unknown, number, string][] = [
  ['no JSON', command, '{"by":', 400, 'bad-request'],
  ['an empty body', command, '', 400, 'bad-message'],
  ['a list', command, [], 400, 'bad-message'],
  ['nobody’s command', command, { command: { kind: 'start' } }, 400, 'bad-message'],
  ['an empty name', command, { by: ' ', command: { kind: 'start' } }, 400, 'bad-message'],
  ['an unknown command', command, give({ kind: 'fly' }), 400, 'bad-message'],
  ['a command with too much in it', command, give({ kind: 'start', now: 1 }), 400, 'bad-message'],
  [
    'half a train',
    command,
    give({ kind: 'hold-train', train: 0.5, hold: true }),
    400,
    'bad-message',
  ],
  ['no such train', command, give({ kind: 'release-train', train: 99 }), 409, 'unknown-number'],
  ['no such block', command, give({ kind: 'confirm-clear', block: 9999 }), 409, 'unknown-number'],
  [
    'no such heading',
    command,
    give({ kind: 'confirm-place', train: 0, heading: 99_999 }),
    409,
    'unknown-number',
  ],
  [
    'a prototype',
    command,
    '{"__proto__":{"by":"x"},"command":{"kind":"start"}}',
    400,
    'bad-message',
  ],
  ['a pace of 0', '/api/session/pace', { by: 'Ann', pace: 0 }, 400, 'bad-message'],
  ['a pace in words', '/api/session/pace', { by: 'Ann', pace: 'fast' }, 400, 'bad-message'],
  ['an unknown example', '/api/session', { by: 'Ann', example: 'moon' }, 404, 'unknown-example'],
  ['a session on nothing', '/api/session', { by: 'Ann' }, 400, 'bad-message'],
  [
    'files that aren’t stored',
    '/api/session',
    {
      by: 'Ann',
      files: { layout: '0'.repeat(16), stock: '0'.repeat(16), timetable: '0'.repeat(16) },
    },
    404,
    'unknown-file',
  ],
  [
    'files in the wrong places',
    '/api/session',
    {
      by: 'Ann',
      files: {
        layout: json(small.stock),
        stock: json(small.layout),
        timetable: json(small.timetable),
      },
    },
    422,
    'faulty-file',
  ],
  [
    'empty files',
    '/api/session',
    { by: 'Ann', files: { layout: {}, stock: {}, timetable: {} } },
    422,
    'faulty-file',
  ],
  ['an empty file', '/api/files', {}, 422, 'faulty-file'],
  ['a file that is a list', '/api/files', [1, 2], 422, 'faulty-file'],
  ['a newer format', '/api/files', { ...json(small.layout), version: 99 }, 422, 'faulty-file'],
  [
    'a crew for nobody’s train',
    '/api/session/crew',
    { by: 'Ann', crew: 'Ben' },
    400,
    'bad-message',
  ],
  [
    'a crew where nobody signs in',
    '/api/session/crew',
    { by: 'Ann', train: 0, crew: 'Ben' },
    409,
    'no-sign-in',
  ],
  ['an empty sign-in', '/api/sign-in', {}, 400, 'bad-message'],
  [
    'a sign-in where nobody signs in',
    '/api/sign-in',
    { name: 'Ann', passphrase: 'x' },
    409,
    'no-sign-in',
  ],
  [
    'a person without a role',
    '/api/people',
    { name: 'Ann', passphrase: '12345678' },
    400,
    'bad-message',
  ],
  [
    'a short passphrase',
    '/api/people',
    { name: 'Ann', role: 'crew', passphrase: '1234567' },
    400,
    'bad-message',
  ],
  ['an address that isn’t there', '/api/nothing', {}, 404, 'not-found'],
];

test.each(BAD)('%s gets a readable refusal', async (_, path, body, status, code) => {
  const answer = await server.post(path, body);
  expect(answer).toMatchObject({
    status,
    body: { ok: false, refusal: { code, text: expect.stringMatching(/^[A-Z0-9].{15,}/) } },
  });
});

test('unknown hashes and addresses are refused alike when read', async () => {
  expect(await server.get('/api/files/xyz')).toMatchObject({
    status: 404,
    body: { ok: false, refusal: { code: 'unknown-file' } },
  });
  expect(await server.get('/nowhere')).toMatchObject({
    status: 404,
    body: { ok: false, refusal: { code: 'not-found' } },
  });
});

test('a body beyond the limit is refused', async () => {
  const answer = await server.post('/api/files', { filler: 'x'.repeat(21_000_000) });
  expect(answer).toMatchObject({ status: 413, body: { refusal: { code: 'too-large' } } });
});

test('a page of another site can change nothing, and none but this machine’s names are answered', async () => {
  const origin = { Origin: 'https://trains.example' };
  for (const path of [command, '/api/session', '/api/session/pace', '/api/files'])
    expect(await server.post(path, give({ kind: 'cut-power' }), origin)).toMatchObject({
      status: 403,
      body: { ok: false, refusal: { code: 'foreign-origin' } },
    });
  const own = { Origin: server.address };
  expect((await server.post(command, give({ kind: 'fly' }), own)).status).toBe(400);
});

test('a command that the engine refuses says why', async () => {
  const answer = await server.post(command, give({ kind: 'resume' }));
  expect(answer).toMatchObject({ status: 409, body: { ok: false } });
});

test('a command that is accepted is done', async () => {
  expect(await server.post(command, give({ kind: 'power-up' }))).toEqual({
    status: 200,
    body: { ok: true },
  });
  const { body } = await server.get('/api/session');
  expect(snapshotMessage.parse(body).rows.session?.phase).toBe('line-up');
});

test('another session begins on sent files, and is the one shown', async () => {
  const files = {
    layout: json(small.layout),
    stock: json(small.stock),
    timetable: { ...json(small.timetable), name: 'Evening' },
  };
  expect(await server.post('/api/session', { by: 'Ann', files })).toEqual({
    status: 201,
    body: { ok: true },
  });
  const { body } = await server.get('/api/session');
  expect(snapshotMessage.parse(body)).toMatchObject({
    epoch: 'session-2.1',
    rows: { session: { name: 'Evening', phase: 'set-up' } },
  });
});

test('the description in the docs is the one generated (else run the server’s script "openapi")', () => {
  const docs = new URL('../../../../docs/openapi.json', import.meta.url);
  const generated = JSON.parse(JSON.stringify(describeApi(server.app))) as unknown;
  expect(JSON.parse(readFileSync(docs, 'utf8'))).toEqual(generated);
});

test('the description lists every address with what it takes and answers', async () => {
  const { paths } = describeApi(server.app);
  const listed = Object.entries(paths).flatMap(([path, methods]) =>
    Object.keys(methods).map((method) => `${method} ${path}`),
  );
  expect(listed.sort()).toEqual([
    'delete /api/people/{id}',
    'delete /api/rehearsals',
    'delete /api/return',
    'delete /api/trial',
    'get /api/examples',
    'get /api/files',
    'get /api/files/{hash}',
    'get /api/health',
    'get /api/people',
    'get /api/rehearsals',
    'get /api/rehearsals/report.html',
    'get /api/rehearsals/report.json',
    'get /api/rehearsals/{way}/pictures/{name}',
    'get /api/rehearsals/{way}/tables/{name}',
    'get /api/return',
    'get /api/session',
    'get /api/session/files',
    'get /api/sessions',
    'get /api/sessions/{id}/files',
    'get /api/sessions/{id}/recording',
    'get /api/sessions/{id}/recording/{part}',
    'get /api/sessions/{id}/summary',
    'get /api/sign-in',
    'get /api/trial',
    'patch /api/people/{id}',
    'post /api/files',
    'post /api/people',
    'post /api/rehearsals',
    'post /api/return',
    'post /api/session',
    'post /api/session/command',
    'post /api/session/crew',
    'post /api/session/pace',
    'post /api/sign-in',
    'post /api/sign-in/first',
    'post /api/sign-in/out',
    'post /api/timetables/check',
    'post /api/trial',
    'post /api/what-if',
  ]);
  for (const path of [command, '/api/session', '/api/session/pace', '/api/files'])
    expect(paths[path]?.post?.requestBody).toBeDefined();
  const page = await server.get('/api/docs');
  expect(page.status).toBe(200);
  expect(String(page.body)).toContain('swagger');
});

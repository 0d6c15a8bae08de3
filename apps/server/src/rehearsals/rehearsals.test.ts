import { rehearsalsView, type RehearsalsView } from '@blockbell/contract';
import { expect, test } from 'vitest';
import { serverOfFile } from '../testing/server-of-file.js';
import { startTestServer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);

const PATH = '/api/rehearsals';
const BOOKED = { dispatching: 'booked' } as const;
type Rehearsals = RehearsalsView['rehearsals'];

const rehearsals = async (): Promise<Rehearsals> =>
  rehearsalsView.parse((await server.get(PATH)).body).rehearsals;

async function ended(): Promise<NonNullable<Rehearsals>> {
  await expect
    .poll(async () => (await rehearsals())?.state, { timeout: 30_000 })
    .not.toBe('running');
  return (await rehearsals())!;
}

test('before the first there are none, nothing to break off and nothing to read', async () => {
  expect(await rehearsals()).toBeNull();
  expect(await server.send('DELETE', PATH, {})).toMatchObject({
    status: 409,
    body: { refusal: { code: 'no-rehearsals' } },
  });
  expect((await server.get(`${PATH}/report.json`)).status).toBe(404);
});

test('sessions are rehearsed, and their report, pictures and tables are kept', async () => {
  expect(await server.post(PATH, { sessions: 2, ...BOOKED })).toMatchObject({
    status: 202,
    body: { rehearsals: { state: 'running', done: 0, of: 2, left: null, first: null } },
  });
  const { done, why, first, second, comparison } = await ended();
  expect({ done, why, second, comparison }).toEqual({
    done: 2,
    why: null,
    second: null,
    comparison: null,
  });
  expect(first!.rows[0]).toEqual(['Sessions', expect.stringContaining('2 of 2')]);
  expect((await server.get(`${PATH}/report.json`)).body).toMatchObject({
    report: { kind: 'blockbell-rehearsals', sessions: 2 },
    against: null,
  });
  const read = async (path: string): Promise<string> =>
    (await fetch(`${server.address}${PATH}/${path}`)).text();
  for (const { name } of first!.pictures) {
    expect(await read(`first/pictures/${name}.svg`)).toMatch(/^<svg .*<\/svg>$/s);
  }
  for (const name of first!.tables) expect(await read(`first/tables/${name}.csv`)).toContain(',');
  expect(await read('report.html')).toContain('<!doctype html>');
  expect((await fetch(`${server.address}${PATH}/second/pictures/track.svg`)).status).toBe(404);
  expect((await fetch(`${server.address}${PATH}/first/pictures/toString.svg`)).status).toBe(404);
});

test('one lot goes on at a time; broken off, it reports what was run until then', async () => {
  await server.post(PATH, { sessions: 500, ...BOOKED });
  await expect.poll(async () => (await rehearsals())?.done, { timeout: 30_000 }).toBeGreaterThan(0);
  expect((await rehearsals())?.left).toBeGreaterThan(0);
  expect(await server.post(PATH, {})).toMatchObject({
    status: 409,
    body: { refusal: { code: 'rehearsals-go-on' } },
  });
  expect((await server.send('DELETE', PATH, {})).status).toBe(200);
  const { done, of, first } = await ended();
  expect(of).toBe(500);
  expect(done).toBeLessThan(500);
  expect(first!.rows[0]![1]).toContain(`${done} of 500`);
});

test('two ways are compared over the same seeds', async () => {
  await server.post(PATH, { sessions: 2, ...BOOKED, against: { dispatching: 'priority' } });
  const { of, second, comparison } = await ended();
  expect(of).toBe(4);
  expect(second!.rows[1]![1]).toContain('priority first');
  expect(comparison!.map(([what]) => what)).toContain('connections missed');
});

test('two sets of staging rules are compared over the same seeds', async () => {
  const { layout } = (await server.get('/api/session/files')).body as { layout: { id: string } };
  const rules = {
    kind: 'blockbell-staging-rules',
    version: 1,
    id: 'none-of-its-yards',
    name: 'No yard by rules',
    layout: layout.id,
    yards: [],
  };
  const { file } = (await server.post('/api/files', rules)).body as { file: { hash: string } };
  await server.post(PATH, {
    sessions: 1,
    ...BOOKED,
    rules: file.hash,
    against: { rules: null },
  });
  const { of, first, second } = await ended();
  expect(of).toBe(2);
  const staging = (rows: readonly (readonly string[])[]): string | undefined =>
    rows.find(([what]) => what === 'Staging')?.[1];
  expect([staging(first!.rows), staging(second!.rows)]).toEqual([
    'No yard by rules',
    'as the timetable has it',
  ]);
  expect(
    (await server.post(PATH, { sessions: 1, ...BOOKED, rules: '0123456789abcdef' })).status,
  ).toBe(404);
});

test('what is not there, or not as described, is refused with the reason', async () => {
  expect(
    (await server.post(PATH, { sessions: 1, against: { timetable: '0123456789abcdef' } })).status,
  ).toBe(404);
  expect((await server.post(PATH, { sessions: 0 })).status).toBe(400);
  const storms = { kind: 'blockbell-disturbances', version: 1, storms: {} };
  expect((await server.post(PATH, { disturbances: storms })).status).toBe(400);
});

import { EVENTS } from '@blockbell/contract';
import { beforeAll, expect, test } from 'vitest';
import { startOpenServer, type Name } from '../testing/open-server.js';
import { serverOfFile } from '../testing/server-of-file.js';
import type { TestBoard } from '../testing/test-board.js';

const server = serverOfFile(startOpenServer, 120_000);
let dora: TestBoard;
let carl: TestBoard;

beforeAll(async () => {
  dora = await server.board(server.cookies.dora);
  carl = await server.board(server.cookies.carl);
}, 120_000);

const put = (board: TestBoard, train: number, crew: Name | null): Promise<unknown> =>
  board.ask(EVENTS.crew, { by: 'x', train, crew });

const crewsSeenBy = async (board: TestBoard, wanted: object[]): Promise<void> => {
  await board.until(
    ({ picture }) => JSON.stringify(picture!.rows.session?.crews) === JSON.stringify(wanted),
  );
};

test('a crew takes a train that nobody drives, and every board is told', async () => {
  expect(await put(carl, 0, 'carl')).toEqual({ ok: true });
  for (const board of [dora, carl]) await crewsSeenBy(board, [{ train: 0, name: 'carl' }]);
  await dora.until(
    ({ picture }) => picture!.rows.log!.at(-1)?.text === 'carl drives 3 from now on.',
  );
});

test('a crew neither takes another’s train nor puts others on one', async () => {
  const cleo = await server.board(server.cookies.cleo);
  for (const asked of [put(cleo, 0, 'cleo'), put(cleo, 1, 'carl'), put(cleo, 0, null)])
    expect(await asked).toMatchObject({ ok: false, refusal: { code: 'not-allowed' } });
});

test('a dispatcher puts a crew on another train: a person drives one train', async () => {
  expect(await put(dora, 1, 'carl')).toEqual({ ok: true });
  await crewsSeenBy(carl, [{ train: 1, name: 'carl' }]);
  expect(await put(dora, 1, 'cleo')).toEqual({ ok: true });
  await crewsSeenBy(carl, [{ train: 1, name: 'cleo' }]);
  expect(await put(dora, 1, null)).toEqual({ ok: true });
  await crewsSeenBy(carl, []);
});

test('visitors, strangers and trains that are not there are refused', async () => {
  expect(await put(dora, 0, 'vera')).toMatchObject({ refusal: { code: 'not-allowed' } });
  expect(await dora.ask(EVENTS.crew, { by: 'x', train: 0, crew: 'nobody' })).toMatchObject({
    refusal: { code: 'unknown-person' },
  });
  expect(await put(dora, 99, 'carl')).toMatchObject({ refusal: { code: 'unknown-number' } });
  expect(await dora.ask(EVENTS.crew, { by: 'x', train: -1, crew: null })).toMatchObject({
    refusal: { code: 'bad-message' },
  });
});

test('who becomes a visitor, or is removed, drives no train any more', async () => {
  const builder = { Cookie: server.cookies.bea };
  const { body } = await server.get('/api/people', builder);
  const { people } = body as { people: { id: number; name: string }[] };
  const idOf = (name: Name): number => people.find((person) => person.name === name)!.id;
  for (const [train, crew] of [
    [0, 'carl'],
    [1, 'cleo'],
  ] as const)
    expect(await put(dora, train, crew)).toEqual({ ok: true });
  await server.send('PATCH', `/api/people/${idOf('carl')}`, { role: 'visitor' }, builder);
  await crewsSeenBy(dora, [{ train: 1, name: 'cleo' }]);
  await server.send('DELETE', `/api/people/${idOf('cleo')}`, {}, builder);
  await crewsSeenBy(dora, []);
});

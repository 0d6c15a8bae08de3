import type { Command, Effect, Refusal } from '@blockbell/railway';
import { beforeEach, expect, test } from 'vitest';
import { smallWorld } from '../testing/small-session.js';
import { Contest } from './contest.js';

const world = smallWorld();
const EPOCH = 'session-1.1';
let wall = 0;
let revision = 0;
let contest: Contest;

beforeEach(() => {
  wall = 0;
  revision = 0;
  contest = new Contest(world, EPOCH, () => wall);
});

/** Gives a command by the picture of revision `seen`; the engine answers as said. */
const give = (by: string, command: Command, seen: number, answer: Refusal | null = null) =>
  contest.give(by, command, { epoch: EPOCH, revision: seen }, () => {
    const effects: Effect[] = [{ kind: 'answer', refusal: answer }];
    contest.note({ at: 0, kind: 'command', by, command }, effects, ++revision);
    return Promise.resolve(answer);
  });

const hold: Command = { kind: 'hold-train', train: 0, hold: true };
const letGo: Command = { kind: 'hold-train', train: 0, hold: false };
const take: Command = { kind: 'take-in-hand', train: 0, take: true };

test('what another person did after the picture was drawn comes first; once seen it is no hindrance', async () => {
  expect(await give('Ann', hold, 0)).toBeNull();
  expect(await give('Ben', letGo, 0)).toEqual({
    code: 'too-late',
    text: 'Ann held 3 a moment ago, before your command came; look again.',
  });
  expect(await give('Ben', letGo, 1)).toBeNull();
});

test('of commands at the same time the first wins, though the engine answers later', async () => {
  const answers = await Promise.all([give('Ann', take, 0), give('Ben', take, 0)]);
  expect(answers).toEqual([null, expect.objectContaining({ code: 'too-late' })]);
});

test('a refused command stands in nobody’s way', async () => {
  const halted = { code: 'halted', text: '3 was stopped.' };
  expect(await give('Ann', take, 0, halted)).toEqual(halted);
  expect(await give('Ben', take, 0)).toBeNull();
});

test('other trains, the same person and whatever stops are not kept waiting', async () => {
  expect(await give('Ann', take, 0)).toBeNull();
  expect(await give('Ben', { ...take, train: 1 }, 0)).toBeNull();
  expect(await give('Ann', letGo, 0)).toBeNull();
  for (const command of [hold, { kind: 'stop-all' }, { kind: 'cut-power' }] satisfies Command[])
    expect(await give('Ben', command, 0)).toBeNull();
});

test('a command by no picture is taken; one by the picture of another session is not', async () => {
  expect(await give('Ann', take, 0)).toBeNull();
  const run = () => Promise.resolve(null);
  expect(await contest.give('Ben', letGo, undefined, run)).toBeNull();
  expect(
    await contest.give('Ben', letGo, { epoch: 'session-0.1', revision: 9 }, run),
  ).toMatchObject({ code: 'another-session' });
});

test('a refusal is told with the person whose deed it comes from, and how long ago', async () => {
  const inHand = { code: 'in-hand', text: '3 is in hand already.' };
  await give('Ann', take, 0);
  wall = 45_000;
  expect(await give('Ben', take, 1, inHand)).toEqual({
    code: 'in-hand',
    text: '3 is in hand already. Ann took 3 in hand 45 seconds ago.',
  });
  wall = 4 * 60_000;
  expect(await give('Ben', take, 1, inHand)).toMatchObject({
    text: expect.stringContaining('4 minutes ago'),
  });
  wall = 11 * 60_000;
  expect(await give('Ben', take, 1, inHand)).toEqual(inHand);
});

test('the train that the engine names in its refusal is the one asked after', async () => {
  const route: Command = { kind: 'set-route', train: 1, block: 2 };
  await give('Ann', { kind: 'set-route', train: 0, block: 3 }, 0);
  const held = { code: 'element-held', text: 'L2 is held for 3.', train: 0 };
  expect(await give('Ben', route, 1, held)).toEqual({
    code: 'element-held',
    text: expect.stringMatching(/^L2 is held for 3\. Ann set a route for 3 to .+ a moment ago\.$/),
  });
});

test('track closed by one person is not reopened unseen by another', async () => {
  const element = world.layout.elements.findIndex(({ kind }) => kind === 'block');
  await give('Ann', { kind: 'close-track', element, reason: 'rail joint' }, 0);
  expect(await give('Ben', { kind: 'reopen-track', element }, 0)).toEqual({
    code: 'too-late',
    text: expect.stringMatching(/^Ann closed .+ \(rail joint\) a moment ago/),
  });
  expect(await give('Ben', { kind: 'reopen-track', element }, 1)).toBeNull();
});

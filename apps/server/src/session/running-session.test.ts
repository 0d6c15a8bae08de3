import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Logger } from '@nestjs/common';
import type { Input } from '@blockbell/railway';
import { createSession, step } from '@blockbell/railway';
import { nextCommandTowardsStart, smallSession, smallWorld } from '../testing/small-session.js';

beforeEach(() => {
  vi.useFakeTimers({
    toFake: ['setTimeout', 'clearTimeout', 'setImmediate', 'clearImmediate', 'performance'],
  });
});
afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
});

const texts = ({ running }: ReturnType<typeof smallSession>): string[] =>
  running.log.lines().map(({ text }) => text);

async function runningNow() {
  const session = smallSession();
  session.running.start();
  for (let turn = 0; turn < 40; turn++) {
    const command = nextCommandTowardsStart(session.running);
    if (command === null) break;
    void session.running.give('Ann', command);
    await vi.advanceTimersByTimeAsync(1_000);
  }
  expect(session.running.state.session.phase.kind).toBe('running');
  return session;
}

test('a journal that can’t be written is an alarm, and no train may depart', async () => {
  vi.spyOn(Logger.prototype, 'error').mockImplementation(() => {});
  const session = await runningNow();
  const { running } = session;
  session.diskFault = 'no space left on device';
  void running.give('Ann', { kind: 'hold-train', train: 0, hold: true });
  await vi.advanceTimersByTimeAsync(500);

  expect(running.journalFailing).toBe(true);
  expect(running.state.session.departuresHeld).toBe(true);
  const alarm = running.feed.peek().rows.alarms!.at(-1)!;
  expect(alarm).toMatchObject({ clearedAt: null, text: expect.stringContaining('no space left') });
  expect(await running.give('Ann', { kind: 'hold-departures', hold: false })).toMatchObject({
    code: 'journal-failing',
  });
  expect(await running.give('Ann', { kind: 'acknowledge-alarm', alarm: alarm.id })).toBeNull();

  session.diskFault = null;
  await vi.advanceTimersByTimeAsync(2_000);
  expect(running.journalFailing).toBe(false);
  expect(running.state.session.departuresHeld).toBe(true);
  expect(running.feed.peek().rows.alarms!.at(-1)).toMatchObject({
    acknowledgedBy: 'Ann',
    clearedAt: expect.any(Number),
  });
  const release = running.give('Ann', { kind: 'hold-departures', hold: false });
  await vi.advanceTimersByTimeAsync(10);
  expect(await release).toBeNull();
  await running.close();
});

test('the journal holds every input: a fresh engine fed with it ends in the same state', async () => {
  const session = await runningNow();
  const { running, written } = session;
  running.setPace('Ann', 20);
  await vi.advanceTimersByTimeAsync(20_000);
  void running.give('Ann', { kind: 'stop-all' });
  await vi.advanceTimersByTimeAsync(2_000);
  await running.close();

  const world = smallWorld();
  const again = createSession(world);
  const inputs = written.flatMap(({ batch }) => JSON.parse(batch.inputs) as Input[]);
  for (const input of inputs) step(world, again, input);
  expect(inputs.length).toBeGreaterThan(100);
  expect(JSON.stringify(again)).toBe(JSON.stringify(running.state));
  expect(written.at(-1)!.batch.revision).toBe(running.state.revision);
});

test('closing stops every train, as the last input of the journal', async () => {
  const { running, written } = await runningNow();
  await running.close();
  const last = JSON.parse(written.at(-1)!.batch.inputs) as Input[];
  expect(last.at(-1)).toMatchObject({ by: 'server', command: { kind: 'stop-all' } });
});

test('commands, refusals and changes of pace can be read in the log', async () => {
  const session = await runningNow();
  session.running.setPace('Ben', 2);
  void session.running.give('Ben', { kind: 'power-up' });
  await vi.advanceTimersByTimeAsync(10);
  expect(texts(session).some((text) => text.startsWith('Ben was refused: '))).toBe(true);
  expect(texts(session)).toContain('Ben set the pace of the simulated time to ×2.');
  await session.running.close();
});

test('an ended session says so once', async () => {
  const session = await runningNow();
  void session.running.give('Ann', { kind: 'end-session' });
  session.running.setPace('Ann', 60);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(session.running.state.session.phase.kind).toBe('ended');
  expect(session.endings).toBe(1);
  await session.running.close();
});

import { deltaMessage, snapshotMessage, type SnapshotMessage } from '@blockbell/contract';
import type { Command } from '@blockbell/railway';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { applyDelta } from '../testing/merge-rows.js';
import { nextCommandTowardsStart, smallSession } from '../testing/small-session.js';

beforeEach(() => {
  vi.useFakeTimers({
    toFake: ['setTimeout', 'clearTimeout', 'setImmediate', 'clearImmediate', 'performance'],
  });
});
afterEach(() => {
  vi.useRealTimers();
});

/** Things a dispatcher may do at any time, whether they are accepted or not. */
const whim: fc.Arbitrary<Command | 'on'> = fc.oneof(
  { weight: 6, arbitrary: fc.constant('on' as const) },
  fc.constantFrom<Command>(
    { kind: 'stop-all' },
    { kind: 'cut-power' },
    { kind: 'pause' },
    { kind: 'resume' },
    { kind: 'hold-departures', hold: true },
    { kind: 'hold-departures', hold: false },
    { kind: 'hold-train', train: 0, hold: true },
    { kind: 'set-clock-ratio', ratio: 12 },
    { kind: 'acknowledge-alarm', alarm: 0 },
  ),
);

test('the deltas merged into the first snapshot are the snapshot of the end', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.record({ whim, pass: fc.integer({ min: 1, max: 3_000 }) }), {
        minLength: 5,
        maxLength: 40,
      }),
      fc.integer({ min: 1, max: 1_000 }),
      async (evening, seed) => {
        const { running } = smallSession(seed);
        running.start();
        running.setPace('Ann', 10);
        running.feed.takeDelta();
        let picture: SnapshotMessage = structuredClone(running.feed.snapshot());
        for (const { whim, pass } of evening) {
          const command = whim === 'on' ? nextCommandTowardsStart(running) : whim;
          if (command !== null) void running.give('Ann', command);
          await vi.advanceTimersByTimeAsync(pass);
          const delta = running.feed.takeDelta();
          if (delta !== null) picture = applyDelta(picture, structuredClone(delta));
        }
        running.feed.noteAllTrains();
        const last = running.feed.takeDelta();
        if (last !== null) picture = applyDelta(picture, last);
        expect(picture.rows).toEqual(running.feed.snapshot().rows);
        await running.close();
      },
    ),
    { numRuns: 15 },
  );
}, 60_000);

test('so they are after some minutes of the demo', async () => {
  const { running } = smallSession(1, 'demo');
  running.start();
  running.feed.takeDelta();
  let picture = structuredClone(running.feed.snapshot());
  for (let turn = 0; turn < 400; turn++) {
    const command = nextCommandTowardsStart(running);
    if (command === null) running.setPace('Ann', 30);
    else void running.give('Ann', command);
    await vi.advanceTimersByTimeAsync(100);
    if (turn % 50 === 0) running.feed.noteAllTrains();
    const delta = running.feed.takeDelta();
    if (delta !== null) picture = applyDelta(picture, structuredClone(delta));
  }
  expect(running.state.session.phase.kind).toBe('running');
  expect(running.state.counts.grants).toBeGreaterThan(20);
  running.feed.noteAllTrains();
  const last = running.feed.takeDelta();
  if (last !== null) picture = applyDelta(picture, last);
  expect(picture.rows).toEqual(running.feed.snapshot().rows);
  await running.close();
}, 60_000);

test('every message is as the contract says', async () => {
  const { running } = smallSession();
  running.start();
  running.setPace('Ann', 10);
  let deltas = 0;
  for (let turn = 0; turn < 60; turn++) {
    const command = nextCommandTowardsStart(running);
    if (command !== null) void running.give('Ann', command);
    await vi.advanceTimersByTimeAsync(500);
    const delta = running.feed.takeDelta();
    if (delta !== null) {
      deltaMessage.parse(delta);
      deltas++;
    }
    snapshotMessage.parse(running.feed.snapshot());
  }
  expect(running.state.session.phase.kind).toBe('running');
  expect(deltas).toBeGreaterThan(20);
  await running.close();
});

test('looking changes nothing, and looking twice shows the same', async () => {
  const { running } = smallSession();
  running.start();
  void running.give('Ann', { kind: 'power-up' });
  await vi.advanceTimersByTimeAsync(5_000);
  const before = JSON.stringify(running.state);
  const first = JSON.stringify(running.feed.peek());
  const second = JSON.stringify(running.feed.peek());
  expect(second).toBe(first);
  expect(JSON.stringify(running.state)).toBe(before);
  await running.close();
});

test('a row that reads as before is not sent again', async () => {
  const { running } = smallSession();
  running.start();
  void running.give('Ann', { kind: 'power-up' });
  await vi.advanceTimersByTimeAsync(5_000);
  running.feed.takeDelta();
  running.feed.noteAllTrains();
  running.feed.noteOwn();
  expect(running.feed.takeDelta()).toBeNull();
  await running.close();
});

test('a change of pace is told though no engine step made it', async () => {
  const { running } = smallSession();
  running.start();
  running.feed.takeDelta();
  const before = running.feed.snapshot();
  running.setPace('Ann', 5);
  const delta = running.feed.takeDelta()!;
  expect(delta.from).toBe(before.revision);
  expect(delta.revision).toBeGreaterThan(delta.from);
  expect(delta.rows.session?.pace).toBe(5);
  expect(delta.rows.log?.map(({ text }) => text)).toEqual([
    'Ann set the pace of the simulated time to ×5.',
  ]);
  await running.close();
});

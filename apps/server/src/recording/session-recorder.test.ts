import {
  deltaMessage,
  snapshotMessage,
  type DeltaMessage,
  type SnapshotMessage,
} from '@blockbell/contract';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { DELTA_INTERVAL, DeltaStream } from '../session/delta-stream.js';
import { applyDelta } from '../testing/merge-rows.js';
import { nextCommandTowardsStart, smallSession } from '../testing/small-session.js';
import { unpacked } from './packing.js';
import { indexOf, partsOf } from './recording-index.js';
import type { RecordingPiece } from './recording-piece.entity.js';
import { MOST_WAITING, RETRY_INTERVAL } from './piece-writer.js';
import { BATCH_SPAN, KEY_FRAME_SPAN, SessionRecorder } from './session-recorder.js';

beforeEach(() => {
  vi.useFakeTimers({
    toFake: ['setTimeout', 'clearTimeout', 'setImmediate', 'clearImmediate', 'performance'],
  });
});
afterEach(() => {
  vi.useRealTimers();
});

/** Compressing is done by real threads, whatever the faked clock says. */
const settled = async (): Promise<void> => {
  for (let turn = 0; turn < 20; turn++) await unpacked(EMPTY);
};
const EMPTY = Buffer.from([3, 0]);

interface Recorded {
  readonly pieces: RecordingPiece[];
  readonly told: string[];
  fault: string | null;
}

function recorder(): { recorder: SessionRecorder; disk: Recorded } {
  const disk: Recorded = { pieces: [], told: [], fault: null };
  const made = new SessionRecorder({
    sink: {
      write: (piece) => {
        if (disk.fault !== null) return Promise.reject(new Error(disk.fault));
        disk.pieces.push(piece);
        return Promise.resolve();
      },
    },
    observer: {
      recordingFailing: (why) => disk.told.push(`failing: ${why}`),
      recordingMended: () => disk.told.push('mended'),
    },
    session: 4,
    run: 2,
    wall: () => performance.now(),
  });
  return { recorder: made, disk };
}

const picture = (revision: number, now: number): SnapshotMessage => ({
  epoch: 'session-4.2',
  revision,
  now,
  rows: {},
});
const change = (revision: number, now: number, text = ''): DeltaMessage => ({
  epoch: 'session-4.2',
  from: revision - 1,
  revision,
  now,
  rows: text === '' ? {} : { log: [{ number: revision, at: now, fast: 0, text, train: null }] },
});

/** One look a second: a change every time. */
async function runFor(
  made: SessionRecorder,
  from: number,
  seconds: number,
  text = '',
): Promise<void> {
  for (let second = 1; second <= seconds; second++) {
    const revision = from + second;
    const at = revision * 1_000;
    made.tick(change(revision, at, text), () => picture(revision, at));
    await vi.advanceTimersByTimeAsync(1_000);
  }
  await settled();
}

test('a session’s pieces, put together again, are the picture a board had at every moment', async () => {
  const { running, recorded } = smallSession(3);
  const stream = new DeltaStream(() => performance.now());
  const seen: SnapshotMessage[] = [];
  stream.add(running.recorder);
  stream.add({
    tick: (delta, snapshot) => {
      if (delta !== null) seen.push(structuredClone(snapshot()));
    },
  });
  stream.follow(running.feed);
  running.start();
  running.setPace('Ann', 20);
  for (let look = 0; look < 300; look++) {
    const command = look % 10 === 0 ? nextCommandTowardsStart(running) : null;
    if (command !== null) void running.give('Ann', command);
    await vi.advanceTimersByTimeAsync(DELTA_INTERVAL);
  }
  stream.stop();
  await running.close();
  expect(running.state.session.phase.kind).toBe('stopped');

  const parts = partsOf(recorded);
  expect(parts.length).toBeGreaterThan(2);
  const shown = new Map<number, SnapshotMessage>();
  for (const { part, pieces } of parts) {
    const contents = await Promise.all(
      recorded
        .filter((piece) => piece.part === part)
        .slice(0, pieces.length)
        .map(async ({ content }) => JSON.parse(await unpacked(content)) as unknown),
    );
    let held = snapshotMessage.parse(contents[0]);
    shown.set(held.revision, held);
    for (const delta of contents.slice(1).flat()) {
      held = applyDelta(held, deltaMessage.parse(delta));
      shown.set(held.revision, held);
    }
  }
  expect(seen.length).toBeGreaterThan(100);
  const lately = ({ rows, revision }: SnapshotMessage): unknown => ({
    revision,
    rows: { ...rows, log: rows.log?.slice(-100) },
  });
  for (const snapshot of seen) {
    const found = shown.get(snapshot.revision);
    expect(found && lately(found)).toEqual(lately(snapshot));
  }
  expect(indexOf(recorded).gaps).toEqual([]);
});

test('while nothing changes, nothing is written', async () => {
  const { recorder: made, disk } = recorder();
  made.tick(null, () => picture(1, 0));
  await settled();
  expect(disk.pieces).toHaveLength(1);
  for (let second = 0; second < 600; second++) {
    made.tick(null, () => picture(1, second * 1_000));
    await vi.advanceTimersByTimeAsync(1_000);
  }
  await settled();
  expect(await made.close(null, () => picture(1, 600_000))).toBe(true);
  expect(disk.pieces).toHaveLength(1);
});

test('deltas go to disk in pieces of some seconds, with a key frame a minute at most', async () => {
  const { recorder: made, disk } = recorder();
  made.tick(null, () => picture(0, 0));
  await runFor(made, 0, 180);
  expect(await made.close(null, () => picture(180, 180_000))).toBe(true);
  const keys = disk.pieces.filter(({ piece }) => piece === 0);
  expect(keys.map(({ from }) => from)).toEqual([0, KEY_FRAME_SPAN, 120_000, 180_000]);
  for (const { from, until } of disk.pieces)
    expect(until - from).toBeLessThanOrEqual(BATCH_SPAN + 1_000);
  expect(indexOf(disk.pieces)).toMatchObject({
    spans: [{ run: 2, from: 0, until: 180_000 }],
    gaps: [],
  });
});

test('a disk that fails is told of once; what waited is written when it works again', async () => {
  const { recorder: made, disk } = recorder();
  made.tick(null, () => picture(0, 0));
  await settled();
  disk.fault = 'disk full';
  await runFor(made, 0, 30);
  expect(disk.told).toEqual(['failing: disk full']);
  disk.fault = null;
  await vi.advanceTimersByTimeAsync(RETRY_INTERVAL);
  await settled();
  expect(disk.told).toEqual(['failing: disk full', 'mended']);
  await made.close(null, () => picture(30, 30_000));
  expect(indexOf(disk.pieces)).toMatchObject({ spans: [{ from: 0, until: 30_000 }], gaps: [] });
});

test('when too much waits, it is given up: the index shows a gap, and keeps what was worth going to', async () => {
  const { recorder: made, disk } = recorder();
  made.tick(null, () => picture(0, 0));
  await runFor(made, 0, 10);
  disk.fault = 'gone';
  made.mark({ kind: 'alarm', at: 12_000, fast: 0, text: 'Stalled', train: null });
  const long = 'x'.repeat(MOST_WAITING / 20);
  await runFor(made, 10, 40, long);
  disk.fault = null;
  await vi.advanceTimersByTimeAsync(RETRY_INTERVAL);
  await runFor(made, 50, 10);
  await made.close(null, () => picture(60, 60_000));
  expect(disk.told).toEqual(['failing: gone', 'mended']);
  const { gaps, marks, spans } = indexOf(disk.pieces);
  expect(gaps).toHaveLength(1);
  expect(gaps[0]!.from).toBeLessThanOrEqual(11_000);
  expect(gaps[0]!.until).toBeGreaterThan(20_000);
  expect(marks.map(({ text }) => text)).toEqual(['Stalled']);
  expect(spans).toMatchObject([{ from: 0, until: 60_000 }]);
});

test('a mark stands where the picture first shows it', async () => {
  const { recorder: made, disk } = recorder();
  made.tick(null, () => picture(0, 0));
  made.mark({ kind: 'alarm', at: 2_500, fast: 0, text: 'Stalled', train: null });
  await runFor(made, 0, 10);
  made.mark({ kind: 'alarm', at: 10_500, fast: 0, text: 'Lost', train: null });
  await made.close(null, () => picture(11, 11_000));
  expect(indexOf(disk.pieces).marks.map(({ at, text }) => [at, text])).toEqual([
    [2_500, 'Stalled'],
    [11_000, 'Lost'],
  ]);
});

test('what a person decided is marked, a refused wish is not', async () => {
  const { running, recorded } = smallSession(1);
  const stream = new DeltaStream(() => performance.now());
  stream.add(running.recorder);
  stream.follow(running.feed);
  running.start();
  running.setPace('Ann', 20);
  expect(await refusedOf(running.give('Ann', { kind: 'give-back-route', train: 0 }))).toBe(true);
  for (let look = 0; look < 200 && nextCommandTowardsStart(running) !== null; look++) {
    void running.give('Ann', nextCommandTowardsStart(running)!);
    await vi.advanceTimersByTimeAsync(1_000);
  }
  expect(running.state.session.phase.kind).toBe('running');
  expect(await refusedOf(running.give('Ann', { kind: 'take-in-hand', train: 0, take: true }))).toBe(
    false,
  );
  await vi.advanceTimersByTimeAsync(BATCH_SPAN);
  stream.stop();
  await running.close();
  const { marks } = indexOf(recorded);
  const texts = marks.map(({ text }) => text);
  expect(texts).toEqual(
    expect.arrayContaining(['Ann switched the power on.', 'Ann started the session.']),
  );
  expect(marks.filter(({ kind }) => kind !== 'decision')).toMatchObject([
    { kind: 'in-hand', run: 1, train: 0 },
  ]);
});

async function refusedOf(answer: Promise<unknown>): Promise<boolean> {
  await vi.advanceTimersByTimeAsync(10);
  return (await answer) !== null;
}

import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { WriteQueue } from './write-queue.js';

const RETRY = 1_000;

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
});
afterEach(() => {
  vi.useRealTimers();
});

function opened() {
  const disk = { written: [] as number[], fault: null as string | null, tries: 0 };
  const told: string[] = [];
  const queue = new WriteQueue<number>(
    (item) => {
      disk.tries++;
      if (disk.fault !== null) return Promise.reject(new Error(disk.fault));
      disk.written.push(item);
      return Promise.resolve();
    },
    { failing: (why) => told.push(`failing: ${why}`), mended: () => told.push('mended') },
    RETRY,
  );
  return { queue, disk, told };
}

test('what could not be written stays, is tried again at intervals, and goes in order', async () => {
  const { queue, disk, told } = opened();
  disk.fault = 'disk full';
  queue.add(1);
  await vi.advanceTimersByTimeAsync(0);
  queue.add(2);
  await vi.advanceTimersByTimeAsync(3 * RETRY);
  expect(disk.tries).toBe(4);
  expect(queue.left).toEqual([1, 2]);
  expect(queue.isFailing).toBe(true);
  disk.fault = null;
  await vi.advanceTimersByTimeAsync(RETRY);
  expect(disk.written).toEqual([1, 2]);
  expect(told).toEqual(['failing: disk full', 'mended']);
});

test('a flush in between tries once more and does not make tries more frequent', async () => {
  const { queue, disk } = opened();
  disk.fault = 'gone';
  queue.add(1);
  await vi.advanceTimersByTimeAsync(0);
  expect(await queue.flush()).toBe(false);
  expect(disk.tries).toBe(2);
  await vi.advanceTimersByTimeAsync(3 * RETRY);
  expect(disk.tries).toBe(5);
});

test('after it was closed nothing is tried any more', async () => {
  const { queue, disk } = opened();
  disk.fault = 'gone';
  queue.add(1);
  await vi.advanceTimersByTimeAsync(0);
  expect(await queue.close()).toBe(false);
  const { tries } = disk;
  await vi.advanceTimersByTimeAsync(10 * RETRY);
  expect(disk.tries).toBe(tries);
});

test('what is given up while it is being written is written, the rest is not', async () => {
  const { queue, disk } = opened();
  for (const item of [1, 2, 3]) queue.add(item);
  queue.giveUp();
  queue.add(4);
  expect(await queue.close()).toBe(true);
  expect(disk.written).toEqual([1, 4]);
});

test('an interval in which nothing had to be written mends nothing', async () => {
  const { queue, disk, told } = opened();
  disk.fault = 'gone';
  queue.add(1);
  await vi.advanceTimersByTimeAsync(0);
  queue.giveUp();
  await vi.advanceTimersByTimeAsync(2 * RETRY);
  expect(told).toEqual(['failing: gone']);
  queue.add(2);
  disk.fault = null;
  await vi.advanceTimersByTimeAsync(RETRY);
  expect(disk.written).toEqual([2]);
  expect(told).toEqual(['failing: gone', 'mended']);
});

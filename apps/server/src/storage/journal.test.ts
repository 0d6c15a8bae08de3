import { createHash } from 'node:crypto';
import type { Effect, Input } from '@blockbell/railway';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Journal } from './journal.js';
import type { JournalRows } from './journal-store.js';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
});
afterEach(() => {
  vi.useRealTimers();
});

function opened() {
  const disk = { rows: [] as JournalRows[], fault: null as string | null, slow: 0 };
  const told: string[] = [];
  const journal = new Journal(
    {
      write: async (rows) => {
        if (disk.slow > 0) await new Promise((resolve) => setTimeout(resolve, disk.slow));
        if (disk.fault !== null) throw new Error(disk.fault);
        disk.rows.push(rows);
      },
    },
    { failing: (why) => told.push(`failing: ${why}`), mended: () => told.push('mended') },
    3,
    2,
  );
  return { journal, disk, told };
}

const tick = (at: number): Input => ({ at, kind: 'deadline' });
const inputsOf = (rows: readonly JournalRows[]): Input[] =>
  rows.flatMap(({ batch }) => JSON.parse(batch.inputs) as Input[]);

test('a batch spans at most 100 ms and is one row', async () => {
  const { journal, disk } = opened();
  for (let at = 0; at < 1_000; at += 10) {
    journal.record(tick(at), [], at / 10 + 1);
    await vi.advanceTimersByTimeAsync(10);
  }
  await vi.advanceTimersByTimeAsync(100);
  expect(inputsOf(disk.rows)).toEqual(Array.from({ length: 100 }, (_, index) => tick(index * 10)));
  for (const rows of disk.rows) {
    const inputs = inputsOf([rows]);
    expect(inputs.at(-1)!.at - inputs[0]!.at).toBeLessThanOrEqual(100);
  }
  expect(disk.rows.map(({ batch }) => batch.batch)).toEqual(disk.rows.map((_, index) => index));
});

test('the chain follows from the effects alone, however they fall into batches', async () => {
  const effects: fc.Arbitrary<Effect[]> = fc.array(
    fc.record({
      kind: fc.constant('log' as const),
      text: fc.string(),
      train: fc.constantFrom(null, 0, 7),
    }),
    { maxLength: 3 },
  );
  await fc.assert(
    fc.asyncProperty(fc.array(effects, { minLength: 1 }), fc.nat(60), async (steps, pause) => {
      const { journal, disk } = opened();
      let chain = createHash('sha256').update('session 3 run 2').digest('hex');
      let revision = 0;
      for (const step of steps) {
        journal.record(tick(revision), step, ++revision);
        chain = createHash('sha256').update(chain).update(JSON.stringify(step)).digest('hex');
        await vi.advanceTimersByTimeAsync(pause);
      }
      expect(await journal.close()).toBe(true);
      expect(disk.rows.at(-1)!.batch).toMatchObject({ revision, chain });
    }),
    { numRuns: 30 },
  );
});

test('a disk that fails is told of once, tried again, and loses nothing', async () => {
  const { journal, disk, told } = opened();
  disk.fault = 'disk full';
  for (let at = 0; at < 50; at++) {
    journal.record(tick(at), [], at + 1);
    await vi.advanceTimersByTimeAsync(100);
  }
  expect(told).toEqual(['failing: disk full']);
  expect(disk.rows).toEqual([]);
  disk.fault = null;
  await vi.advanceTimersByTimeAsync(2_000);
  expect(told).toEqual(['failing: disk full', 'mended']);
  expect(inputsOf(disk.rows)).toEqual(Array.from({ length: 50 }, (_, at) => tick(at)));
});

test('recording never waits for a slow disk, and the order stays', async () => {
  const { journal, disk } = opened();
  disk.slow = 700;
  for (let at = 0; at < 30; at++) {
    journal.record(tick(at), [], at + 1);
    await vi.advanceTimersByTimeAsync(100);
  }
  await vi.advanceTimersByTimeAsync(60_000);
  expect(inputsOf(disk.rows)).toEqual(Array.from({ length: 30 }, (_, at) => tick(at)));
});

test('closing says when the end could not be written', async () => {
  const { journal, disk } = opened();
  disk.fault = 'gone';
  journal.record(tick(1), [], 1);
  expect(await journal.close()).toBe(false);
});

test('what is worth reading goes with the batch, numbered', async () => {
  const { journal, disk } = opened();
  journal.note('decision', 12.4, 99.5, 'Route set', 3);
  journal.note('alarm', 20, 100, 'Stalled', null);
  await journal.close();
  expect(disk.rows[0]!.entries).toEqual([
    {
      session: 3,
      run: 2,
      number: 0,
      kind: 'decision',
      at: 12,
      fast: 100,
      train: 3,
      text: 'Route set',
    },
    {
      session: 3,
      run: 2,
      number: 1,
      kind: 'alarm',
      at: 20,
      fast: 100,
      train: null,
      text: 'Stalled',
    },
  ]);
});

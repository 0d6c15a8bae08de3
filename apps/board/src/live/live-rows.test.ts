import type { DeltaMessage, LogView, SectionView } from '@blockbell/contract/messages';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trainRow } from '../testing/train-row.js';
import { continues, mergeRows, noRows, replaceRows } from './live-rows.js';

const sectionRow = fc.record<SectionView>({
  section: fc.nat(8),
  belief: fc.constantFrom('clear', 'occupied', 'unknown'),
  claim: fc.integer({ min: -1, max: 3 }),
  unidentified: fc.option(fc.string(), { nil: null }),
  clearByHand: fc.option(fc.string(), { nil: null }),
});
const entry = (number: number): LogView => ({
  number,
  at: 0,
  fast: 0,
  text: `n${number}`,
  train: null,
});
const delta = (epoch: string, from: number): DeltaMessage => ({
  epoch,
  from,
  revision: from + 1,
  now: 0,
  rows: {},
});

describe('the live copy of the state', () => {
  it('holds the last row that came for each number, whatever the order of the deltas', () => {
    fc.assert(
      fc.property(fc.array(fc.array(sectionRow, { maxLength: 6 })), (deltas) => {
        const live = noRows();
        for (const sections of deltas) mergeRows(live, { sections });
        const last = new Map(deltas.flat().map((row) => [row.section, row]));
        expect([...live.sections.values()]).toEqual([...last.values()]);
      }),
    );
  });

  it('keeps what the change of a train does not name', () => {
    const live = noRows();
    const row = trainRow({ train: 3, mark: 100, where: 'here' });
    mergeRows(live, { trains: [row, trainRow({ train: 4 })] });
    mergeRows(live, { trains: [{ train: 3, mark: 250 }] });
    expect(live.trains.get(3)).toEqual({ ...row, mark: 250 });
    expect(live.trains.get(4)).toEqual(trainRow({ train: 4 }));
  });

  it('tells that track looks otherwise when a train has another way over it', () => {
    const live = noRows();
    const on = (element: number, to = 'b') => ({ element, from: 'a', to, start: 0, end: 10 });
    mergeRows(live, { trains: [trainRow({ train: 3, path: [on(5), on(6)] })] });
    const watch = live.elements.watch();
    mergeRows(live, { trains: [{ train: 3, mark: 250 }] });
    expect([...watch.take()]).toEqual([]);
    mergeRows(live, { trains: [{ train: 3, path: [on(6), on(7)] }] });
    expect([...watch.take()].toSorted()).toEqual([5, 6, 7]);
  });

  it('keeps what a delta does not name', () => {
    const live = noRows();
    mergeRows(live, { signals: [{ heading: 4, aspect: 'stop' }] });
    mergeRows(live, { signals: [{ heading: 5, aspect: 'proceed' }] });
    mergeRows(live, {});
    expect([...live.signals.values()].map(({ aspect }) => aspect)).toEqual(['stop', 'proceed']);
  });

  it('takes short lists whole, since their rows come and go', () => {
    const live = noRows();
    mergeRows(live, { strangers: [{ block: 1, text: '', candidates: [] }] });
    mergeRows(live, { strangers: [{ block: 2, text: '', candidates: [] }] });
    expect(live.strangers.map(({ block }) => block)).toEqual([2]);
    mergeRows(live, { strangers: [] });
    expect(live.strangers).toEqual([]);
  });

  it('appends log entries once each and keeps the latest', () => {
    const live = noRows();
    mergeRows(live, { log: [entry(1), entry(2)] });
    mergeRows(live, { log: [entry(2), entry(3)] });
    expect(live.log.map(({ number }) => number)).toEqual([1, 2, 3]);
    mergeRows(live, { log: Array.from({ length: 500 }, (_, index) => entry(index + 4)) });
    expect(live.log).toHaveLength(200);
    expect(live.log.at(-1)?.number).toBe(503);
  });

  it('forgets everything that a snapshot does not hold', () => {
    const live = noRows();
    mergeRows(live, { signals: [{ heading: 4, aspect: 'stop' }], log: [entry(9)] });
    replaceRows(live, { epoch: 'e', revision: 1, now: 0, rows: { log: [entry(1)] } });
    expect(live.signals.size).toBe(0);
    expect(live.log.map(({ number }) => number)).toEqual([1]);
  });
});

describe('a delta', () => {
  it('applies only to the state that it continues from', () => {
    const have = { epoch: 'e', revision: 7 };
    expect(continues(have, delta('e', 7))).toBe(true);
    expect(continues(have, delta('e', 8))).toBe(false);
    expect(continues(have, delta('e', 6))).toBe(false);
    expect(continues(have, delta('f', 7))).toBe(false);
    expect(continues(null, delta('e', 0))).toBe(false);
  });
});

import type { RecordingIndex } from '@blockbell/contract/messages';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Timeline } from './timeline.js';

const session = {
  id: 1,
  name: 'S',
  createdAt: '2026-01-02T03:04:05.000Z',
  endedAt: null,
  ending: null,
  engine: null,
  length: 0,
  recorded: 0,
  alarms: 0,
};
const span = (run: number, from: number, until: number) => ({
  run,
  from,
  until,
  fromFast: 0,
  untilFast: 0,
});
const alarm = (run: number, at: number) =>
  ({ kind: 'alarm', run, at, fast: 0, text: '', train: null }) as const;

/** Two openings of 100 s and 50 s; of the first, 40 to 60 s is missing. */
const INDEX: RecordingIndex = {
  session,
  spans: [span(1, 0, 100_000), span(3, 20_000, 70_000)],
  parts: [
    { part: 0, run: 1, from: 0, until: 40_000 },
    { part: 1, run: 1, from: 60_000, until: 100_000 },
    { part: 2, run: 3, from: 20_000, until: 70_000 },
  ],
  gaps: [{ run: 1, from: 40_000, until: 60_000 }],
  marks: [
    alarm(3, 30_000),
    alarm(1, 10_000),
    { kind: 'in-hand', run: 1, at: 20_000, fast: 0, text: '', train: 2 },
    alarm(2, 5_000),
  ],
};
const timeline = new Timeline(INDEX);

describe('the time line of a recording', () => {
  it('puts one opening after the other', () => {
    expect(timeline.length).toBe(150_000);
    expect(timeline.restarts).toEqual([100_000]);
    expect(timeline.momentAt(0)).toEqual({ run: 1, at: 0, part: 0 });
    expect(timeline.momentAt(99_999)).toEqual({ run: 1, at: 99_999, part: 1 });
    expect(timeline.momentAt(100_000)).toEqual({ run: 3, at: 20_000, part: 2 });
    expect(timeline.momentAt(150_000)).toEqual({ run: 3, at: 70_000, part: 2 });
  });

  it('stays within its ends', () => {
    expect(timeline.momentAt(-5)).toEqual(timeline.momentAt(0));
    expect(timeline.momentAt(1e9)).toEqual(timeline.momentAt(150_000));
    expect(timeline.positionOf(1, 1e9)).toBe(100_000);
  });

  it('leads from a position to its moment and back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 150_000 }), (position) => {
        const { run, at } = timeline.momentAt(position)!;
        expect(timeline.positionOf(run, at)).toBe(position);
        expect(timeline.positionAfter(run, at)).toBe(position);
      }),
    );
  });

  it('lets a clock that runs on lead into the next opening', () => {
    expect(timeline.positionAfter(1, 110_000)).toBe(110_000);
    expect(timeline.momentAt(timeline.positionAfter(1, 110_000))?.run).toBe(3);
  });

  it('shows within a gap what was known before it', () => {
    expect(timeline.momentAt(50_000)?.part).toBe(0);
    expect(timeline.gapAt(50_000)).toEqual({ from: 40_000, until: 60_000 });
    expect(timeline.gapAt(60_000)).toBeNull();
  });

  it('leaves out marks of openings of which nothing is kept, and sorts the others', () => {
    expect(timeline.marks.map(({ position }) => position)).toEqual([10_000, 20_000, 110_000]);
  });

  it('steps from alarm to alarm', () => {
    expect(timeline.markFrom('alarm', 0, 1)?.position).toBe(10_000);
    expect(timeline.markFrom('alarm', 10_000, 1)?.position).toBe(110_000);
    expect(timeline.markFrom('alarm', 110_000, 1)).toBeNull();
    expect(timeline.markFrom('alarm', 150_000, -1)?.position).toBe(110_000);
    expect(timeline.markFrom('alarm', 10_000, -1)).toBeNull();
    expect(timeline.markFrom('decision', 0, 1)?.mark.kind).toBe('in-hand');
    expect(timeline.marksOf('decision')).toHaveLength(
      timeline.marks.length - timeline.marksOf('alarm').length,
    );
  });

  it('has no moments when nothing is kept', () => {
    const empty = new Timeline({ session, spans: [], parts: [], gaps: [], marks: [] });
    expect(empty.length).toBe(0);
    expect(empty.momentAt(0)).toBeNull();
  });
});

import { compileWorld, type Station } from '@blockbell/railway';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { USUAL_DISTURBANCES } from '../disturbances/usual.js';
import { comparisonTable, reportTables } from '../export/csv.js';
import { reportPage } from '../export/page.js';
import { rehearseOnce } from '../session/rehearse-once.js';
import type { SessionResult } from '../session/session-result.js';
import { loopPlan } from '../testing/loop.js';
import { buildReport } from './build-report.js';
import { compareResults, type CommonStop } from './compare.js';
import { yardLines } from './yards.js';

type Track = Station['tracks'][number];

const plan = { ...loopPlan(), disturbances: USUAL_DISTURBANCES };
const world = compileWorld(plan.layout, plan.stock, plan.timetable);
const results = Array.from({ length: 6 }, (_, index) => rehearseOnce(plan, index + 1));
const report = buildReport(plan, world, results, 10);

const MINUTE = 60_000;
/** A session made up by hand: minutes late by booked stop, and what else is said. */
const session = (
  seed: number,
  late: readonly (number | null)[],
  rest: Partial<SessionResult> = {},
): SessionResult => ({
  ...results[0]!,
  seed,
  late: late.map((each) => (each === null ? null : each * MINUTE)),
  ...rest,
});

describe('the report of many sessions', () => {
  it('is the same in whatever order they were done', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(results, { minLength: 6 }), (shuffled) => {
        expect(buildReport(plan, world, shuffled, 10)).toEqual(report);
      }),
      { numRuns: 20 },
    );
  });

  it('says how many of those asked for it is about', () => {
    expect(report).toMatchObject({ asked: 10, sessions: 6, ended: 6 });
    expect(report.seeds).toEqual({ first: 1, last: 6 });
    expect(buildReport(plan, world, [], 10)).toMatchObject({ sessions: 0, seeds: null });
  });

  it('counts an arrival that never came as late, not as an arrival', () => {
    const twelve = (each: number | null): (number | null)[] => new Array(12).fill(each);
    const sessions = [session(1, twelve(2)), session(2, [...twelve(4).slice(1), null])];
    const counted = buildReport(plan, world, sessions, 2);
    expect(counted.lateness.count).toBe(23);
    expect(counted.punctuality.within3.mean).toBe(50);
    expect(counted.punctuality.within5.mean).toBeCloseTo((100 + (100 * 11) / 12) / 2, 9);
    const last = counted.services.find(({ notRun }) => notRun === 1);
    expect(last?.within3).toMatchObject({ hits: 1, of: 2 });
  });

  it('counts the slots of a staging yard as well as its tracks', () => {
    const { stations } = world.layout;
    const [one, two] = stations.map(({ tracks }) => tracks[0]!) as [Track, Track];
    const file = { ...stations[0]!.file, kind: 'staging-yard' as const };
    const yard = { ...stations[0]!, file, tracks: [one, { ...two, blocks: [5, 6, 7] }] };
    const layout = { ...world.layout, stations: [yard] };
    expect(yardLines({ ...world, layout }, results)).toMatchObject([{ tracks: 2, slots: 4 }]);
  });

  it('names who was waited for, and where', () => {
    const place = world.layout.elementByName.get('T1')!;
    const waits = [
      { waiter: 0, train: 1, place, time: 3 * MINUTE },
      { waiter: 0, train: -1, place, time: 9 * MINUTE },
      { waiter: 1, train: 0, place: -1, time: MINUTE },
    ];
    const two = [session(1, [], { waits }), session(2, [], { waits: [] })];
    const { byPlace, byTrain } = buildReport(plan, world, two, 2).waits;
    expect(byPlace).toEqual([
      {
        element: 'T1',
        place: 'turnout T1',
        perSession: 1.5,
        for: [{ train: '1047', perSession: 1.5 }],
      },
      {
        element: null,
        place: 'elsewhere',
        perSession: 0.5,
        for: [{ train: '3', perSession: 0.5 }],
      },
    ]);
    expect(byTrain.map(({ train, perSession }) => [train, perSession])).toEqual([
      ['1047', 1.5],
      ['3', 0.5],
    ]);
  });

  it('comes as tables and as a page with all its pictures', () => {
    const tables = reportTables(report);
    expect(tables['services.csv']!.split('\r\n')).toHaveLength(8);
    expect(tables['services.csv']).toContain('S3-1,Shuttle 1,3,6,');
    const page = reportPage(plan.layout, report);
    expect(page.match(/<svg /g)).toHaveLength(7);
    expect(page).toContain('Pennick passing loop');
    expect(page).not.toContain('NaN');
  });
});

/** The two stops of a session, booked both ways. */
const STOPS: CommonStop[] = [
  [0, 0],
  [1, 1],
];

describe('a comparison', () => {
  it('takes the delay over the arrivals that came both ways, and counts those that did not come', () => {
    const first = [1, 2, 3].map((seed) => session(seed, [1, 20]));
    // The late one never comes the other way: that is no less delay.
    const second = first.map((it) => ({ ...it, late: [it.late[0]!, null] }));
    const { lines } = compareResults(first, second, STOPS);
    const line = (what: string) => lines.find((it) => it.what === what);
    expect(line('delay at an arrival that came both ways')).toMatchObject({
      first: 1,
      second: 1,
      verdict: 'same',
    });
    expect(line('booked arrivals that did not come')).toMatchObject({
      first: 0,
      second: 1,
      verdict: 'worse',
    });
  });

  it('goes seed by seed, over those that were run both ways', () => {
    const first = [session(3, [3, 1]), session(1, [1, 1]), session(2, [2, 2])];
    const second = [session(1, [2, 2]), session(2, [4, 4]), session(3, [5, 5]), session(4, [9, 9])];
    const { pairs, lines } = compareResults(first, second, STOPS);
    expect(pairs).toBe(3);
    const delay = lines.find(({ what }) => what === 'delay at an arrival that came both ways')!;
    // Differences 1, 2, 3.
    expect(delay.difference.mean).toBeCloseTo(2, 9);
    expect(delay.difference.low).toBeCloseTo(2 - 4.303 / Math.sqrt(3), 9);
    expect(delay.verdict).toBe('unclear');
    expect(comparisonTable({ pairs, lines })).toContain(
      'delay at an arrival that came both ways,min,1.667,3.667,2,',
    );
  });

  it('tells better from worse only where the interval leaves out zero', () => {
    const sessions = (late: (seed: number) => number): SessionResult[] =>
      Array.from({ length: 12 }, (_, seed) => session(seed, [late(seed), late(seed)]));
    const verdict = (second: SessionResult[], what: string): string | undefined =>
      compareResults(
        sessions(() => 4),
        second,
        STOPS,
      ).lines.find((it) => it.what === what)?.verdict;
    expect(
      verdict(
        sessions((seed) => 6 + (seed % 2)),
        'delay at an arrival that came both ways',
      ),
    ).toBe('worse');
    expect(
      verdict(
        sessions((seed) => 1 + (seed % 2)),
        'delay at an arrival that came both ways',
      ),
    ).toBe('better');
    expect(
      verdict(
        sessions(() => 4),
        'delay at an arrival that came both ways',
      ),
    ).toBe('same');
    expect(
      verdict(
        sessions((seed) => (seed % 4 === 0 ? 4 : 1)),
        'arrivals within 3 min',
      ),
    ).toBe('better');
  });
});

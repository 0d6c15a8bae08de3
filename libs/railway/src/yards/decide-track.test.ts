import { describe, expect, it } from 'vitest';
import type { Berth } from './berths.js';
import { decideTrack } from './decide-track.js';
import { inOrderOfLeaving, type DueTrain } from './order-keys.js';
import { ruleNames, yardSentences } from './rule-words.js';
import type { ArrivalRule, Fallback, YardRulesFile } from './staging-rules-file.js';
import { validateStagingRules } from './validate-rules.js';
import type { ComingTrain, StandingTrain, YardScene } from './yard-scene.js';

const HOUR = 3_600_000;
const standing = (train: number, depart: number, out: 'a' | 'b' = 'a'): StandingTrain => ({
  train,
  class: 'freight',
  depart,
  out,
});

/** Tracks 1 (1000 mm), 2 (2000 mm in two slots) and 3 (1500 mm), with who stands in their slots from end a to end b. */
const scene = (one: StandingTrain | null, two: (StandingTrain | null)[]): YardScene => ({
  fast: 8 * HOUR,
  tracks: [
    { id: 'Y1', name: '1', length: 1000, slots: [one], slotLengths: [1000], lastUsed: 3 },
    { id: 'Y2', name: '2', length: 2000, slots: two, slotLengths: [1000, 1000], lastUsed: 1 },
    { id: 'Y3', name: '3', length: 1500, slots: [null], slotLengths: [1500], lastUsed: 2 },
  ],
});

const berth = (track: number, over: Partial<Berth> = {}): Berth => ({
  track,
  in: 'b',
  out: 'a',
  needs: 1,
  cost: track,
  ...over,
});

const coming = (over: Partial<ComingTrain> = {}): ComingTrain => ({
  train: 7,
  id: 'T7',
  class: 'express',
  length: 900,
  visit: 0,
  depart: 9 * HOUR,
  berths: [berth(0), berth(1), berth(2)],
  ...over,
});

const rules = (
  arrivals: readonly ArrivalRule[],
  nothingFits: readonly Fallback[] = [],
): YardRulesFile => ({
  yard: 'yard' as YardRulesFile['yard'],
  arrivals,
  nothingFits,
  departures: { order: [], requests: [] },
  moveUp: 'on-arrival',
});

function taken(arrivals: readonly ArrivalRule[], train = coming(), at = scene(null, [null, null])) {
  const decision = decideTrack(rules(arrivals), at, train, null);
  return decision.kind === 'take'
    ? decision.offers.map(({ rule, berths }) => [
        rule.place,
        ...berths.map(({ track }) => track + 1),
      ])
    : decision.kind;
}

describe('the track of a train that comes', () => {
  it('is by the first rule that applies and finds one; later rules are fallbacks', () => {
    const arrivals: ArrivalRule[] = [
      { when: { is: 'class', of: ['freight'] }, order: [] },
      { only: { is: 'track', of: ['Y3'] }, order: [] },
      { order: [] },
    ];
    expect(taken(arrivals)).toEqual([
      [1, 3],
      [2, 1, 2, 3],
    ]);
  });

  it.each([
    ['least-spare', [1, 3, 2]],
    ['most-spare', [2, 3, 1]],
    ['rotation', [2, 3, 1]],
    ['list', [1, 2, 3]],
  ] as const)('is ordered by %s', (by, order) => {
    expect(taken([{ order: [{ by }] }])).toEqual([[0, ...order]]);
  });

  it('is never one without room, or behind another train at its own end', () => {
    expect(
      taken([{ order: [] }], coming(), scene(standing(1, HOUR), [null, standing(2, HOUR)])),
    ).toEqual([[0, 3]]);
    const long = coming({ berths: [berth(1, { needs: 2 })] });
    expect(taken([{ order: [] }], long, scene(null, [standing(2, HOUR), null]))).toBe('ask');
  });

  it('buries nobody where that is asked: in a dead end the first in must not leave first', () => {
    const only = { is: 'burying-nobody' } as const;
    const deadEnd = coming({ berths: [berth(1, { out: 'b' })] });
    const early = scene(null, [standing(2, 8.5 * HOUR, 'b'), null]);
    const late = scene(null, [standing(2, 10 * HOUR, 'b'), null]);
    expect(taken([{ only, order: [] }], deadEnd, early)).toBe('ask');
    expect(taken([{ only, order: [] }], deadEnd, late)).toEqual([[0, 2]]);
  });

  it('leaves as many tracks empty as are to be kept free', () => {
    const keep = (tracks: number): ArrivalRule[] => [
      { only: { is: 'keeping-free', tracks }, order: [] },
    ];
    const busy = scene(null, [standing(2, 10 * HOUR), null]);
    expect(taken(keep(1), coming(), busy)).toEqual([[0, 1, 2, 3]]);
    expect(taken(keep(2), coming(), busy)).toEqual([[0, 2]]);
    expect(taken(keep(3), coming(), busy)).toBe('ask');
  });

  it('falls by chance the same for the same seed, otherwise for some others', () => {
    const first = (seed: number) => JSON.stringify(taken([{ order: [{ by: 'random', seed }] }]));
    expect(first(5)).toBe(first(5));
    expect(new Set([1, 2, 3, 4, 5, 6, 7, 8].map(first)).size).toBeGreaterThan(2);
  });
});

describe('where no rule finds a track', () => {
  const none: ArrivalRule[] = [{ only: { is: 'longer', than: 9000 as never }, order: [] }];
  const after = (waited: number | null) =>
    decideTrack(
      rules(none, [{ do: 'hold', minutes: 5 }, { do: 'take', order: [] }, { do: 'ask' }]),
      scene(null, [null, null]),
      coming(),
      waited,
    ).kind;

  it('the train waits outside, and after that time the next is done', () => {
    expect([after(null), after(5 * 60_000 - 1), after(5 * 60_000)]).toEqual([
      'hold',
      'hold',
      'take',
    ]);
  });

  it('a person is asked in the end', () => {
    expect(decideTrack(rules(none), scene(null, [null, null]), coming(), null)).toEqual({
      kind: 'ask',
      rule: null,
    });
  });
});

describe('of trains that are due', () => {
  const due = (train: number, over: Partial<DueTrain> = {}): DueTrain => ({
    train,
    class: 'freight',
    priority: 5,
    depart: train,
    since: -train,
    departures: 0,
    ...over,
  });
  const order = (...args: Parameters<typeof inOrderOfLeaving>): number[] =>
    inOrderOfLeaving(...args).map(({ train }) => train);

  it('leaves first whom the timetable, the wait, the rotation or the class names', () => {
    const all = [due(1, { departures: 2 }), due(2), due(3, { class: 'express' })];
    expect(order([], all)).toEqual([1, 2, 3]);
    expect(order([{ by: 'longest-waiting' }], all)).toEqual([3, 2, 1]);
    expect(order([{ by: 'rotation' }], all)).toEqual([2, 3, 1]);
    expect(order([{ by: 'class', of: ['express'] }, { by: 'timetable' }], all)).toEqual([3, 1, 2]);
  });
});

describe('rules that can’t be run', () => {
  it('are refused with the place and what mends it', () => {
    const yards = [
      rules(
        [{ when: { is: 'all', of: [] }, order: [{ by: 'random', seed: -1 }] }],
        [{ do: 'ask' }, { do: 'hold', minutes: 0 }],
      ),
    ];
    const file = {
      kind: 'blockbell-staging-rules',
      version: 1,
      id: 'r',
      name: 'R',
      layout: 'l',
      yards,
    } as const;
    expect(validateStagingRules(file).map(({ place, mend }) => `${place}: ${mend}`)).toEqual([
      'yards[0] yard.arrivals[0].when.of: add one, or remove the group',
      'yards[0] yard.arrivals[0].order[0].seed: enter a value from 0 to 2147483647',
      'yards[0] yard.nothingFits[1].minutes: enter a value above 0',
      'yards[0] yard.nothingFits[1]: remove it, or put it before the asking',
    ]);
  });
});

it('rules are read as sentences', () => {
  const arrivals: ArrivalRule[] = [
    {
      when: {
        is: 'any',
        of: [
          { is: 'class', of: ['works'] },
          { is: 'not', of: { is: 'staying' } },
        ],
      },
      only: { is: 'all', of: [{ is: 'empty' }, { is: 'keeping-free', tracks: 2 }] },
      order: [{ by: 'least-spare' }, { by: 'random', seed: 4 }],
    },
  ];
  const [first, second] = yardSentences(rules(arrivals), ruleNames(null, null, 'yard'));
  expect(first).toBe(
    '1. A train that (runs as works, or is not one that does not leave any more) takes a track that has room and ' +
      '(is empty, and leaves 2 other tracks empty); first the one with the least length to spare, then one by chance (seed 4).',
  );
  expect(second).toBe(
    'A train for which no rule finds a track waits outside until one does, or a person says which.',
  );
});

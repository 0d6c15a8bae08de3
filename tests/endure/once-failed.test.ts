import { endureCase, endureSession } from '@blockbell/rehearsal';
import { compileLayout, compileStock } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

const demo = exampleRailway('demo');
const TIMEOUT = 120_000;

/** A session that failed once, with the shortest list of faults that made it fail, and what was wrong. */
interface OnceFailed {
  readonly what: string;
  readonly number: number;
  readonly faults: (names: Names) => readonly Fault[];
}

interface Names {
  section(id: string): number;
  element(id: string): number;
  train(id: string): number;
  district(id: string): number;
}

/** All with seed 1. */
const ONCE_FAILED: readonly OnceFailed[] = [
  {
    what: 'a reversing section that stuck was never tried again while its train waited inside',
    number: 0,
    faults: ({ element }) => [
      { kind: 'stuck-drive', at: 1_013_001, element: element('PL'), duration: 107_602 },
    ],
  },
  {
    what: 'a contact lost for 617 ms freed track under a train: the hold-off was shorter',
    number: 2,
    faults: ({ section }) => [
      { kind: 'dropout', at: 762_629, section: section('L7e3.2'), duration: 617 },
    ],
  },
  {
    what: 'a contact lost for 445 ms freed track under a train: the hold-off was shorter',
    number: 5,
    faults: ({ section }) => [
      { kind: 'dropout', at: 311_875, section: section('AE1'), duration: 445 },
    ],
  },
  {
    what: 'a contact lost for 699 ms freed track under a train: the hold-off was shorter',
    number: 8,
    faults: ({ section }) => [
      { kind: 'dropout', at: 531_189, section: section('S8e1'), duration: 699 },
    ],
  },
  {
    what: 'a train let go on after a stall stood for ever, reckoned to be at its mark',
    number: 7,
    faults: ({ district, train }) => [
      { kind: 'short', at: 419_700, district: district('d1'), duration: 11_472 },
      { kind: 'stall', at: 514_559, train: train('T7'), duration: 54_787 },
    ],
  },
  {
    what: 'a train that stalled after two power losses stood for ever',
    number: 4,
    faults: ({ district, train }) => [
      { kind: 'power-loss', at: 1_136_576, district: district('d3'), duration: 28_019 },
      { kind: 'power-loss', at: 27_623, district: district('d1'), duration: 21_035 },
      { kind: 'stall', at: 1_234_253, train: train('T4'), duration: 44_243 },
    ],
  },
];

describe('a session that failed once runs to its end, every service, nothing broken', () => {
  it.each(ONCE_FAILED)(
    'session $number: $what',
    ({ number, faults }) => {
      const request = { seed: 1, number, level: 'mixed', silent: null } as const;
      const outcome = endureSession(request, demo, faults(namesOf(number)));
      expect(outcome).toMatchObject({ failure: null, excused: [], ended: true, notRun: [] });
    },
    TIMEOUT,
  );
});

/** Sessions with faults as they are drawn at their level, and what was wrong in them. */
const ONCE_WRONG = [
  {
    what: 'a train was let run beyond its limit after a line-up in which the section under its head had lost contact',
    request: { seed: 1, number: 2, level: 'brutal', silent: 50 },
  },
  {
    what: 'a train went on over a turnout that lay wrong after it was seen beside its way, certain and wrong',
    request: { seed: 1, number: 0, level: 'brutal', silent: 50 },
  },
  {
    what: 'track freed under a train and given to another in the same step was not counted',
    request: { seed: 1, number: 8, level: 'mixed', silent: null },
  },
] as const;

describe('a session in which once something was wrong', () => {
  it.each(ONCE_WRONG)(
    'session $request.number: $what',
    ({ request }) => {
      const { failure, identity } = endureSession(request, demo);
      expect({ failure, wrong: identity.wrong['none'] ?? 0 }).toEqual({ failure: null, wrong: 0 });
    },
    TIMEOUT,
  );
});

function namesOf(number: number): Names {
  const files = endureCase({ seed: 1, number, level: 'mixed', silent: null }, demo);
  const layout = compileLayout(files.layout);
  const stock = compileStock(files.stock);
  return {
    section: (id) => layout.sectionByName.get(id)!,
    element: (id) => layout.elementByName.get(id)!,
    train: (id) => stock.trainByName.get(id)!,
    district: (id) => layout.districts.indexOf(id),
  };
}

/** Sessions that failed once with all the faults drawn for them, and what was wrong. All with seed 1. */
const FAILED_AS_DRAWN = [
  [75, 'two misreadings at once let two trains of three in doubt change places unasked'],
  [165, 'two trains were taken for each other, for one is longer than the block it stood in'],
  [
    186,
    'a train that stalled unnoticed on its last stretch was reckoned at its mark and stood for ever',
  ],
  [398, 'a train was said to be where another stood, and waited for ever for its own rear'],
  [
    502,
    'cars that lay on the way of a train kept its place from being confirmed, and nobody lifted them',
  ],
  [505, 'a block was said to be clear with a train in it that the section asked about did not see'],
  [572, 'a train was believed to reach what stood further off on its way than it is long'],
  [861, 'contact that came back under a standing train was taken for its head coming in'],
  [990, 'a drive moved under a train that a lost contact had set free'],
  [
    1011,
    'a train put back on the track while power was off was reckoned where it had stood before',
  ],
  [1015, 'what a train had left was not proven behind it when a person had put it further on'],
  [1173, 'a train put further on while power was off was reckoned where it had stood before'],
  [
    1710,
    'after a power cut a train was looked for in the section behind, for its own had lost contact',
  ],
  [2208, 'the same for a train that a person had placed elsewhere'],
  [2341, 'the same for a train that had been running'],
  [3310, 'a train that had run away was let go on while it stood foul of a turnout'],
  [3822, 'a contact lost for 5.9 s under a train was not counted as what freed track under it'],
  [4036, 'a train that stood beyond its limit was let go on without being put back'],
  [5130, 'a contact lost for 6.8 s was not counted as what let polarity change under a train'],
  [5633, 'a train put elsewhere by hand was said to stand there though it stood foul of a turnout'],
  [5649, 'a train that had run back was let go on while its tail stood foul of a turnout'],
  [6181, 'a train stopped by a short circuit was looked for in the section behind'],
  [
    6389,
    'a contact lost for 4 s was not counted as what freed a turnout that a train stood foul of',
  ],
  [8260, 'a train that ran on too far was let go on while it stood beyond its limit'],
  [9834, 'a train put on the track by hand ran on beyond its limit and was let go on there'],
] as const;

describe('a session that failed once as it was drawn breaks nothing that no fault excuses', () => {
  it.each(FAILED_AS_DRAWN)(
    'session %i: %s',
    (number) => {
      const request = { seed: 1, number, level: 'mixed', silent: null } as const;
      const { failure, ended, notRun } = endureSession(request, demo);
      expect({ failure, ended, notRun }).toEqual({ failure: null, ended: true, notRun: [] });
    },
    TIMEOUT,
  );
});

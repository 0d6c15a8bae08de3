import {
  bayToDunmarrow,
  CALLS,
  dunmarrowToBay,
  fromDunmarrow,
  fromOstraven,
  fromSelquay,
  goodsFromBrindlemere,
  goodsToBrindlemere,
  homeward,
  homewardAtOnce,
  outward,
  outwardAndRound,
  OVERTAKEN_AT_BRINDLEMERE,
  OVERTAKEN_AT_OSTRAVEN,
  PASSES,
  stoneEmpties,
  stoneLoaded,
  toDunmarrow,
  toOstraven,
  toSelquay,
} from './journeys.js';
import type { Pace } from './running-minutes.js';
import type { Place } from './runs.js';

/** What one train does: where it stands first, and its services by departure. */
export interface Plan {
  readonly train: string;
  readonly name: string;
  readonly pace: Pace;
  readonly stands: { readonly block: string; readonly towards: 'a' | 'b' };
  readonly services: readonly (readonly [departure: string, places: readonly Place[]])[];
}

const inYard = (block: string): Plan['stands'] => ({ block, towards: 'a' });

const LOOP_TRAINS: readonly Plan[] = [
  {
    train: 'T101',
    name: 'Coast Flyer',
    pace: 'express',
    stands: inYard('Y1'),
    services: [
      ['06:02', outward(CALLS)],
      ['06:34', homeward('Y3', CALLS)],
      ['07:20', outward(CALLS)],
      ['07:52', homeward('Y3', CALLS)],
      ['08:38', outward(CALLS)],
      ['09:10', homeward('Y1', CALLS)],
    ],
  },
  {
    train: 'T102',
    name: 'Valley Flyer',
    pace: 'express',
    stands: inYard('Y2'),
    services: [
      ['06:38', outward(CALLS)],
      ['07:11', homeward('Y1', CALLS)],
      ['08:10', outward(CALLS)],
      ['08:42', homeward('Y8', CALLS)],
    ],
  },
  {
    train: 'T21',
    name: 'Stopping train 21',
    pace: 'stopping',
    stands: inYard('Y3'),
    services: [
      ['06:12', outward(CALLS)],
      ['06:48', homeward('Y4', CALLS)],
      ['07:34', outward(CALLS)],
      ['08:10', homeward('Y7', CALLS)],
    ],
  },
  {
    train: 'T22',
    name: 'Stopping train 22',
    pace: 'stopping',
    stands: inYard('Y4'),
    services: [
      ['06:24', outwardAndRound(CALLS)],
      ['07:00', homewardAtOnce('Y2', CALLS)],
      ['07:52', outwardAndRound(CALLS)],
      ['08:28', homewardAtOnce('Y4', CALLS)],
    ],
  },
  {
    train: 'T61',
    name: 'Ore',
    pace: 'freight',
    stands: inYard('Y5'),
    services: [
      ['06:32', outward(OVERTAKEN_AT_BRINDLEMERE)],
      ['07:23', homeward('Y6', PASSES)],
    ],
  },
  {
    train: 'T62',
    name: 'Ore empties',
    pace: 'freight',
    stands: inYard('Y6'),
    services: [
      ['07:05', outward(PASSES)],
      ['07:40', homeward('Y5', OVERTAKEN_AT_BRINDLEMERE)],
    ],
  },
  {
    train: 'T63',
    name: 'Fish',
    pace: 'freight',
    stands: inYard('Y7'),
    services: [
      ['08:20', outward(OVERTAKEN_AT_OSTRAVEN)],
      ['09:00', homeward('Y2', PASSES)],
    ],
  },
  {
    train: 'T64',
    name: 'Pick-up goods',
    pace: 'freight',
    stands: { block: 'A4', towards: 'b' },
    services: [
      ['06:04', goodsFromBrindlemere],
      ['06:24', homeward('Y8', PASSES)],
      ['08:25', goodsToBrindlemere],
    ],
  },
];

const SUBURBAN_TRAINS: readonly Plan[] = [
  {
    train: 'T31',
    name: 'Suburban 31',
    pace: 'suburban',
    stands: { block: 'X1', towards: 'a' },
    services: [
      ['06:29', toSelquay('C2')],
      ['07:07', fromSelquay('X1')],
      ['07:45', toSelquay('C1')],
      ['08:21', fromSelquay('X1')],
      ['08:58', toOstraven],
      ['09:24', fromOstraven('X1')],
    ],
  },
  {
    train: 'T32',
    name: 'Suburban 32',
    pace: 'suburban',
    stands: { block: 'X2', towards: 'a' },
    services: [
      ['07:12', toSelquay('C2')],
      ['07:50', fromSelquay('X2')],
      ['08:30', toSelquay('C1')],
      ['09:05', fromSelquay('X2')],
    ],
  },
  {
    train: 'T34',
    name: 'Suburban 34',
    pace: 'suburban',
    stands: { block: 'C1', towards: 'a' },
    services: [
      ['06:10', fromSelquay('X1')],
      ['06:52', toSelquay('C1')],
      ['07:30', fromSelquay('X3')],
      ['08:14', toSelquay('C2')],
      ['08:50', fromSelquay('X3')],
      ['09:26', toSelquay('C1')],
    ],
  },
  {
    train: 'T35',
    name: 'Suburban 35',
    pace: 'suburban',
    stands: { block: 'C5', towards: 'a' },
    services: [
      ['06:44', fromSelquay('X3')],
      ['07:27', toSelquay('C5')],
      ['08:05', fromSelquay('X2')],
      ['08:42', toSelquay('C5')],
    ],
  },
];

const BRANCH_TRAINS: readonly Plan[] = [
  {
    train: 'T33',
    name: 'Dunmarrow through train',
    pace: 'suburban',
    stands: { block: 'X3', towards: 'a' },
    services: [
      ['06:18', toDunmarrow],
      ['07:18', fromDunmarrow('X2')],
      ['08:04', toDunmarrow],
      ['09:04', fromDunmarrow('X3')],
    ],
  },
  {
    train: 'T71',
    name: 'Branch railcar 71',
    pace: 'railcar',
    stands: { block: 'E1', towards: 'b' },
    services: [
      ['06:03', dunmarrowToBay],
      ['06:58', bayToDunmarrow],
      ['07:46', dunmarrowToBay],
      ['08:06', bayToDunmarrow],
      ['08:29', dunmarrowToBay],
      ['09:30', bayToDunmarrow],
    ],
  },
  {
    train: 'T72',
    name: 'Branch railcar 72',
    pace: 'railcar',
    stands: { block: 'B5', towards: 'b' },
    services: [
      ['06:03', bayToDunmarrow],
      ['06:58', dunmarrowToBay],
      ['07:46', bayToDunmarrow],
      ['08:06', dunmarrowToBay],
      ['08:26', bayToDunmarrow],
      ['09:30', dunmarrowToBay],
    ],
  },
  {
    train: 'T91',
    name: 'Stone train',
    pace: 'railcar',
    stands: { block: 'A5', towards: 'b' },
    services: [
      ['06:15', stoneEmpties],
      ['07:24', stoneLoaded],
      ['08:38', stoneEmpties],
      ['09:14', stoneLoaded],
    ],
  },
];

export const PLANS: readonly Plan[] = [...LOOP_TRAINS, ...SUBURBAN_TRAINS, ...BRANCH_TRAINS];

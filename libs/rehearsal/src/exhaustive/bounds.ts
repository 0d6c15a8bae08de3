import type { Bounds, DisturbanceKind } from './scenario.js';

const EVERY_KIND: readonly DisturbanceKind[] = [
  'dropout',
  'stuck-throw',
  'misread',
  'command',
  'restart',
];

/** What `blockbell exhaust` goes through. */
export const FULL_BOUNDS: Bounds = {
  disturbances: 1,
  kinds: EVERY_KIND,
  paces: 'every',
  moments: 'ends',
  resolution: 'order',
  states: 3_000_000,
};

/** What is gone through with every test run. */
export const QUICK_BOUNDS: Bounds = {
  disturbances: 1,
  kinds: EVERY_KIND,
  paces: ['long', 'short'],
  moments: 'early',
  resolution: 'order',
  states: 200_000,
};

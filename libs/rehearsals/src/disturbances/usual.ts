import type { DisturbancesFile } from '@blockbell/contract';

/**
 * What goes wrong where nobody says otherwise: crews that come late, long calls, wheels that are dirty, a train that stops dead,
 * a drive that sticks, lost contacts. The shares are assumptions of ours, no measurements; a club that has counted its own
 * writes them in a file.
 */
export const USUAL_DISTURBANCES: DisturbancesFile = {
  kind: 'blockbell-disturbances',
  version: 1,
  name: 'usual',
  lateStarts: { share: 30, by: { kind: 'exponential', mean: 120, most: 900 } },
  longerCalls: {
    share: 15,
    by: { kind: 'normal', mean: 60, deviation: 40, least: 10, most: 240 },
  },
  slowTrains: { share: 10, by: { kind: 'uniform', least: 1, most: 4 } },
  trainFailures: { share: 2, lasts: { kind: 'uniform', least: 15, most: 40 } },
  turnoutFailures: { perHour: 1, lasts: { kind: 'uniform', least: 10, most: 60 } },
  lostContacts: { share: 2, lasts: { kind: 'uniform', least: 0.05, most: 0.8 } },
};

/** Nothing goes wrong. */
export const NO_DISTURBANCES: DisturbancesFile = {
  kind: 'blockbell-disturbances',
  version: 1,
  name: 'none',
};

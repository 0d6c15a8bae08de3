import { FAULT_LEVELS } from './fault-rates.js';
import type { SessionRequest } from './session-request.js';

/** Percent of locomotives whose decoder never answers. */
export const SILENT_SHARES = [0, 25, 50, 100] as const;

/**
 * The sessions of an identity scorecard: on the same railways once for each level of faults and each share of silent
 * decoders.
 */
export const scorecardRequests = (seed: number, sessions: number): SessionRequest[] =>
  Array.from({ length: sessions }, (_, number) => number).flatMap((number) =>
    FAULT_LEVELS.flatMap((level) =>
      SILENT_SHARES.map((silent): SessionRequest => ({ seed, number, level, silent })),
    ),
  );

import type { Stay } from './yard.js';

/** Indexes of the stays in the order in which they come: by time, then as listed. */
export const orderOfComing = (stays: readonly Stay[]): number[] =>
  stays
    .map((_, index) => index)
    .sort((a, b) => {
      const [one, other] = [stays[a]!.arrive, stays[b]!.arrive];
      return one === other ? a - b : one - other;
    });

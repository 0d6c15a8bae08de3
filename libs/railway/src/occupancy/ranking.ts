/**
 * How candidates are ranked for a person. Weights order what is shown and never decide: what decides are the assignments
 * that the evidence allows. The chances are common practice, no source.
 */

/** Chance that what a reader reads is right. */
const READER_RIGHT = 0.95;
/** Chance that a decoder which answers is read while it passes. */
const READER_HEARS = 0.9;

/** How much less likely evidence is that needs so many misreadings. */
export function weightOfFaults(faults: number, right = READER_RIGHT): number {
  let weight = 1;
  for (let fault = 0; fault < faults; fault++) weight *= (1 - right) / right;
  return weight;
}

/** How much less likely it is that nothing was read, for a decoder that answers and for one that never does. */
export const weightOfSilence = (answers: boolean, hears = READER_HEARS): number =>
  answers ? 1 - hears : 1;

/** Weights as shares of one. */
export function shares(weights: readonly number[]): number[] {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return weights.map((weight) => (sum === 0 ? 0 : weight / sum));
}

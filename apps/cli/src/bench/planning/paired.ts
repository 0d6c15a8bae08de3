import { studentQuantile } from '@blockbell/rehearsals';

/** How much lower one way comes out than another on the same sessions. */
export interface Saving {
  /** Share of the sum over all sessions, percent. */
  readonly percent: number;
  /** Bounds between which it lies with 95 % confidence. */
  readonly low: number;
  readonly high: number;
}

/**
 * The saving in pairs of sessions: the mean difference over the mean of the base, with the interval of Student's t for the
 * paired differences. The base's own spread is taken as given.
 */
export function pairedSaving(base: readonly number[], other: readonly number[]): Saving {
  const differences = base.map((value, i) => value - other[i]!);
  const mean = meanOf(differences);
  const count = differences.length;
  const squares = differences.reduce((sum, it) => sum + (it - mean) * (it - mean), 0);
  const error = count < 2 ? Infinity : Math.sqrt(squares / (count - 1) / count);
  const half = studentQuantile(count) * error;
  const whole = meanOf(base);
  const percent = (value: number): number => (whole === 0 ? 0 : (value / whole) * 100);
  return { percent: percent(mean), low: percent(mean - half), high: percent(mean + half) };
}

export const meanOf = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((sum, it) => sum + it, 0) / values.length;

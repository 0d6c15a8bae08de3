/** A share in percent, with bounds between which it lies with 95 % confidence. */
export interface Share {
  readonly of: number;
  readonly hits: number;
  readonly percent: number;
  readonly low: number;
  readonly high: number;
}

/** A mean, with bounds between which it lies with 95 % confidence; both null where there are fewer than two values. */
export interface Mean {
  readonly mean: number;
  readonly low: number | null;
  readonly high: number | null;
}

/** Two-sided 95 % quantile of the normal distribution. */
const Z = 1.959963984540054;

/** Two-sided 95 % quantiles of Student's t by degrees of freedom from 1 on (any table of statistics). */
const STUDENT = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145,
  2.131, 2.12, 2.11, 2.101, 2.093, 2.086, 2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048,
  2.045,
];

/** Student's quantile for so many values. */
export const studentQuantile = (values: number): number =>
  STUDENT[values - 2] ?? beyondTable(values - 1);

/**
 * The quantile for more degrees of freedom than the table has, by its expansion in their inverse: R. A. Fisher, E. A. Cornish, The percentile
 * points of distributions having known cumulants, Technometrics 2 (1960), 209–225. From 30 on the fourth decimal holds.
 */
function beyondTable(freedom: number): number {
  const z3 = Z * Z * Z;
  const z5 = z3 * Z * Z;
  const z7 = z5 * Z * Z;
  return (
    Z +
    (z3 + Z) / (4 * freedom) +
    (5 * z5 + 16 * z3 + 3 * Z) / (96 * freedom * freedom) +
    (3 * z7 + 19 * z5 + 17 * z3 - 15 * Z) / (384 * freedom * freedom * freedom)
  );
}

/**
 * A share of independent trials with its score interval: E. B. Wilson, Probable inference, the law of succession, and statistical
 * inference, Journal of the American Statistical Association 22 (1927), 209–212.
 */
export function wilson(hits: number, of: number): Share {
  if (of === 0) return { of, hits, percent: 0, low: 0, high: 100 };
  const p = hits / of;
  const scale = 1 + (Z * Z) / of;
  const middle = (p + (Z * Z) / (2 * of)) / scale;
  const half = (Z * Math.sqrt((p * (1 - p)) / of + (Z * Z) / (4 * of * of))) / scale;
  const percent = (share: number): number => 100 * Math.max(0, Math.min(1, share));
  return { of, hits, percent: 100 * p, low: percent(middle - half), high: percent(middle + half) };
}

/** The mean of independent values with Student's interval, cut at what the values can be at least and at most. */
export function meanOf(values: readonly number[], least = -Infinity, most = Infinity): Mean {
  const n = values.length;
  if (n === 0) return { mean: 0, low: null, high: null };
  const mean = sum(values) / n;
  if (n === 1) return { mean, low: null, high: null };
  const variance = sum(values.map((value) => (value - mean) * (value - mean))) / (n - 1);
  const half = studentQuantile(n) * Math.sqrt(variance / n);
  return { mean, low: Math.max(least, mean - half), high: Math.min(most, mean + half) };
}

/** How values are spread; percentiles by nearest rank. */
export interface Spread {
  readonly count: number;
  readonly mean: number;
  readonly p10: number;
  readonly median: number;
  readonly p90: number;
  readonly p95: number;
  readonly most: number;
}

export function spreadOf(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (percent: number): number =>
    sorted[Math.max(0, Math.ceil((percent * sorted.length) / 100) - 1)] ?? 0;
  return {
    count: sorted.length,
    mean: sorted.length === 0 ? 0 : sum(sorted) / sorted.length,
    p10: at(10),
    median: at(50),
    p90: at(90),
    p95: at(95),
    most: at(100),
  };
}

export const sum = (values: readonly number[]): number =>
  values.reduce((total, value) => total + value, 0);

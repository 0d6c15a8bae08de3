/** How long something took, over many times it was done; all in µs. */
export interface LatencySummary {
  readonly count: number;
  readonly mean: number;
  readonly p50: number;
  readonly p99: number;
  readonly max: number;
}

/** Collects latencies. */
export class Latencies {
  readonly #values: number[] = [];

  add(microseconds: number): void {
    this.#values.push(microseconds);
  }

  /** Null when there are none. Percentiles are nearest ranks: values that occurred. */
  summary(): LatencySummary | null {
    const sorted = Float64Array.from(this.#values).sort();
    const count = sorted.length;
    if (count === 0) return null;
    const rank = (share: number): number => sorted[Math.ceil(share * count) - 1] ?? 0;
    return {
      count,
      mean: sorted.reduce((sum, value) => sum + value, 0) / count,
      p50: rank(0.5),
      p99: rank(0.99),
      max: rank(1),
    };
  }
}

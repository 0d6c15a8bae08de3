/** How long something took, or how much of it there was, over many times. */
export interface Summary {
  readonly count: number;
  readonly mean: number;
  readonly p50: number;
  readonly p99: number;
  readonly p999: number;
  readonly max: number;
}

const NONE: Summary = { count: 0, mean: 0, p50: 0, p99: 0, p999: 0, max: 0 };

/** Collects values, such as latencies in ms. */
export class Latencies {
  readonly #values: number[] = [];

  add(value: number): void {
    this.#values.push(value);
  }

  /** All zero when there are none. Percentiles are nearest ranks: values that occurred. */
  summary(): Summary {
    const sorted = Float64Array.from(this.#values).sort();
    const count = sorted.length;
    if (count === 0) return NONE;
    const rank = (share: number): number => sorted[Math.ceil(share * count) - 1] ?? 0;
    return {
      count,
      mean: sorted.reduce((sum, value) => sum + value, 0) / count,
      p50: rank(0.5),
      p99: rank(0.99),
      p999: rank(0.999),
      max: rank(1),
    };
  }
}

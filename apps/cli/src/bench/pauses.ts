import { PerformanceObserver } from 'node:perf_hooks';

/** Something that kept the thread, in wall-clock ms of `performance.now()`. */
interface Pause {
  readonly what: string;
  readonly from: number;
  readonly to: number;
}

/** Pauses shorter than this explain nothing, ms. */
const LEAST = 0.5;
/** How far back pauses are remembered, ms. */
const REMEMBERED = 2000;
/** Pauses told one by one. */
const TOLD = 3;

/** Notes what kept the thread, so that a late answer can be explained. Collections of garbage note themselves. */
export class Pauses {
  #kept: Pause[] = [];
  /** The longest of each kind, ms. */
  readonly #longest = new Map<string, number>();
  readonly #collections: PerformanceObserver;

  constructor() {
    this.#collections = new PerformanceObserver((list) => {
      for (const { startTime, duration } of list.getEntries())
        this.note('collection of garbage', startTime, startTime + duration);
    });
    this.#collections.observe({ entryTypes: ['gc'] });
  }

  /** Does the work and notes how long it took. */
  during<T>(what: string, work: () => T): T {
    const from = performance.now();
    try {
      return work();
    } finally {
      this.note(what, from, performance.now());
    }
  }

  note(what: string, from: number, to: number): void {
    if (to - from < LEAST) return;
    this.#longest.set(what, Math.max(this.#longest.get(what) ?? 0, to - from));
    this.#kept.push({ what, from, to });
    while (this.#kept[0]!.to < to - REMEMBERED) this.#kept.shift();
  }

  /** What kept the thread between two moments, longest first: “engine step (clock tick) 3.1 ms, …”. */
  between(from: number, to: number): string {
    const within = this.#kept
      .map((pause) => ({
        what: pause.what,
        ms: Math.min(pause.to, to) - Math.max(pause.from, from),
      }))
      .filter(({ ms }) => ms >= LEAST)
      .sort((a, b) => b.ms - a.ms);
    if (within.length === 0) return 'nothing of the program: the timer or the machine';
    const told = within.slice(0, TOLD).map(({ what, ms }) => `${what} ${ms.toFixed(1)} ms`);
    const rest = within.slice(TOLD);
    if (rest.length > 0) {
      const sum = rest.reduce((total, { ms }) => total + ms, 0);
      told.push(`${rest.length} others, ${sum.toFixed(1)} ms`);
    }
    return told.join(', ');
  }

  /** The longest of each kind since `forget`, longest first. */
  longest(): string {
    return [...this.#longest]
      .sort((a, b) => b[1] - a[1])
      .map(([what, ms]) => `${what} ${ms.toFixed(1)} ms`)
      .join(', ');
  }

  forget(): void {
    this.#longest.clear();
  }

  close(): void {
    this.#collections.disconnect();
  }
}

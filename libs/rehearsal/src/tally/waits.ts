import type { WaitReason } from '@blockbell/railway';

type WaitKind = WaitReason['kind'];

/** Reasons that are no obstacle: the plan itself, the end of the work, a session that is not running. */
const PLANNED: ReadonlySet<WaitKind> = new Set<WaitKind>([
  'not-running',
  'not-confirmed',
  'finished',
  'booked',
  'dwell',
]);

/** Shorter waits are the time it takes to set the way, physical ms. */
const NOTICEABLE = 2000;

/** How often something was waited for, and how long: altogether and at the longest, physical ms. */
export interface WaitTotals {
  readonly count: number;
  readonly total: number;
  readonly longest: number;
}

interface Wait {
  readonly kind: WaitKind;
  readonly since: number;
}

/** Counts how often and how long trains waited for something in their way. */
export class Waits {
  /** Whole waits, from the first obstacle to going on. */
  #all: WaitTotals = { count: 0, total: 0, longest: 0 };
  /** The parts of waits by their reason, each part counted by itself. */
  readonly #byReason = new Map<WaitKind, WaitTotals>();
  /** By train: since when it waits, and what for now; null when it doesn't. */
  readonly #since: (number | null)[];
  readonly #part: (Wait | null)[];

  constructor(trains: number) {
    this.#since = new Array<number | null>(trains).fill(null);
    this.#part = new Array<Wait | null>(trains).fill(null);
  }

  get all(): WaitTotals {
    return this.#all;
  }

  /** By kind of reason, in alphabetical order. */
  get byReason(): Readonly<Record<string, WaitTotals>> {
    return Object.fromEntries([...this.#byReason].sort(([one], [other]) => (one < other ? -1 : 1)));
  }

  see(train: number, reason: WaitReason | null, now: number): void {
    const kind = reason === null || PLANNED.has(reason.kind) ? null : reason.kind;
    this.#seePart(train, kind, now);
    const since = this.#since[train] ?? null;
    if ((kind !== null) === (since !== null)) return;
    this.#since[train] = kind === null ? null : now;
    if (since !== null) this.#all = withOne(this.#all, now - since);
  }

  #seePart(train: number, kind: WaitKind | null, now: number): void {
    const part = this.#part[train] ?? null;
    if (kind === (part?.kind ?? null)) return;
    this.#part[train] = kind === null ? null : { kind, since: now };
    if (part === null) return;
    const before = this.#byReason.get(part.kind) ?? { count: 0, total: 0, longest: 0 };
    const after = withOne(before, now - part.since);
    if (after !== before) this.#byReason.set(part.kind, after);
  }
}

function withOne(totals: WaitTotals, span: number): WaitTotals {
  if (span < NOTICEABLE) return totals;
  return {
    count: totals.count + 1,
    total: totals.total + span,
    longest: Math.max(totals.longest, span),
  };
}

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

/** Counts how often and how long trains waited for something in their way. */
export class Waits {
  count = 0;
  /** All waits together, physical ms. */
  total = 0;
  longest = 0;
  /** By train: since when it waits; null when it doesn't. */
  readonly #since: (number | null)[];

  constructor(trains: number) {
    this.#since = new Array<number | null>(trains).fill(null);
  }

  see(train: number, reason: WaitReason | null, now: number): void {
    const waits = reason !== null && !PLANNED.has(reason.kind);
    const since = this.#since[train] ?? null;
    if (waits === (since !== null)) return;
    this.#since[train] = waits ? now : null;
    if (since === null || now - since < NOTICEABLE) return;
    this.count++;
    this.total += now - since;
    this.longest = Math.max(this.longest, now - since);
  }
}

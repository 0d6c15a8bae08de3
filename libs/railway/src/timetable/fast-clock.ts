import type { FastClock } from '../session/state.js';

/** Fast-clock ms since midnight at the physical instant `now`. */
export function fastNow(clock: FastClock, now: number): number {
  return clock.running ? clock.fast + (now - clock.since) * clock.ratio : clock.fast;
}

/** The physical instant at which the clock will show `fast`, or null while it stands. */
export function instantOf(clock: FastClock, fast: number): number | null {
  if (!clock.running) return null;
  return clock.since + Math.ceil((fast - clock.fast) / clock.ratio);
}

/** Writes the clock down anew at `now`, so that ratio or running may change without a jump. */
export function settleClock(clock: FastClock, now: number): void {
  clock.fast = fastNow(clock, now);
  clock.since = now;
}

import type { Timetable } from './timetable.js';

/** A call as run, of whichever service. */
interface CallRun {
  readonly service: number;
  readonly call: number;
  readonly arrived: number | null;
}

/**
 * Whether a service has run: its train arrived at its last call and at every other at which it stops, but the first.
 * @param runs calls as run, by the train that works it or by all
 */
export function hasRun(
  { services }: Timetable,
  service: number,
  runs: readonly CallRun[],
): boolean {
  const { calls } = services[service]!;
  const arrived = new Set(
    runs.filter((it) => it.service === service && it.arrived !== null).map(({ call }) => call),
  );
  return calls.every(
    ({ stops }, call) => call === 0 || (!stops && call < calls.length - 1) || arrived.has(call),
  );
}

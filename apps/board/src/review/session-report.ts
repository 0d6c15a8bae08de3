import type { RecordedMark, RunView } from '@blockbell/contract/messages';
import { delayFigures, hasRun } from '@blockbell/railway';
import type { DelayFigures, Layout, Timetable } from '@blockbell/railway';

/** How a session went, as far as it is recorded. */
export interface SessionReport {
  /** Services that the timetable books, and those that ran from their first call to their last. */
  readonly booked: number;
  readonly run: number;
  /** Lateness at the last call of services that came to it, fast-clock ms, below zero when early; null when none did. */
  readonly median: number | null;
  readonly worst: { readonly service: string; readonly late: number } | null;
  /** Punctuality at three and five minutes, and whose delay it was. */
  readonly delays: DelayFigures;
  readonly alarms: number;
  /** Trains that somebody drove, by their number. */
  readonly inHand: readonly number[];
  /** How often a train's way was given back. */
  readonly givenBack: number;
}

/** `runs`: the calls as run at the end of what is kept. */
export function sessionReport(
  { layout, timetable }: { readonly layout: Layout; readonly timetable: Timetable },
  runs: readonly RunView[],
  marks: readonly RecordedMark[],
): SessionReport {
  const calls = new Map(runs.map(({ train, calls: run }) => [train, run]));
  const services = timetable.workings.flatMap((working, train) =>
    (working?.services ?? []).map((service) => ({ service, calls: calls.get(train) ?? [] })),
  );
  const arrivals = services
    .flatMap(({ service, calls: run }) => arrivalOf(timetable, service, run))
    .toSorted((p, q) => p.late - q.late);
  const inHand = marks.flatMap(({ kind, train }) =>
    kind === 'in-hand' && train !== null ? [train] : [],
  );
  return {
    booked: services.length,
    run: services.filter(({ service, calls: run }) => hasRun(timetable, service, run)).length,
    median: medianOf(arrivals.map(({ late }) => late)),
    worst: arrivals.at(-1) ?? null,
    delays: delayFigures(
      layout,
      timetable,
      runs.map((run) => run.calls.map((call) => ({ ...call, delay: call.delay ?? null }))),
    ),
    alarms: marks.filter(({ kind }) => kind === 'alarm').length,
    inHand: [...new Set(inHand)],
    givenBack: marks.filter(({ kind }) => kind === 'given-back').length,
  };
}

type Calls = RunView['calls'];

function arrivalOf(
  timetable: Timetable,
  service: number,
  run: Calls,
): { service: string; late: number }[] {
  const booked = timetable.services[service];
  const arrival = booked?.calls.at(-1)?.arrive ?? null;
  const last = (booked?.calls.length ?? 0) - 1;
  const arrived = run.find((it) => it.service === service && it.call === last)?.arrived ?? null;
  if (!booked || arrival === null || arrived === null) return [];
  return [{ service: booked.file.name, late: Math.round(arrived - arrival) }];
}

/** Of sorted values; of an even number the lower of the two in the middle. */
const medianOf = (sorted: readonly number[]): number | null =>
  sorted[Math.floor((sorted.length - 1) / 2)] ?? null;

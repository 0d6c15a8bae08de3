import {
  hasRun,
  type CallRecord,
  type EngineState,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import { bookedStops } from './booked-stops.js';
import type { SessionResult, SessionWait } from './session-result.js';

type Stored = Readonly<Record<'train' | 'block' | 'towards', string>>;

/** By booked stop: fast-clock ms later than booked; null where no train came. */
export function arrivalsOf({ book }: World, state: EngineState): (number | null)[] {
  const records = recordsOf(state);
  return bookedStops(book.booked.timetable).map(({ service, call, arrive }) => {
    const arrived = records.get(`${service} ${call}`)?.arrived ?? null;
    return arrived === null ? null : Math.round(arrived) - arrive;
  });
}

/** Services that did not arrive at every call at which they stop; −1 − i: the i-th that names no train got none. */
export function servicesNotRun({ timetable }: World, { trains, staging }: EngineState): number[] {
  const worked = timetable.workings.flatMap((working, train) =>
    (working?.services ?? []).filter(
      (service) => !hasRun(timetable, service, trains[train]!.calls),
    ),
  );
  const withoutTrain = staging.open.flatMap(({ kind }, index) =>
    kind === 'given' ? [] : [-1 - index],
  );
  return [...worked, ...withoutTrain];
}

/** By service that names no train: the train that ran it; null: none did. */
export const openServicesRun = (
  { timetable }: World,
  { trains, staging }: EngineState,
): (number | null)[] =>
  staging.open.map((run) =>
    run.kind === 'given' && hasRun(timetable, run.service, trains[run.train]!.calls)
      ? run.train
      : null,
  );

/** By connection: whether the second service left only after people could have changed; null where one never came or left. */
export function connectionsOf({ timetable }: World, state: EngineState): (boolean | null)[] {
  const records = recordsOf(state);
  return timetable.connections.map(({ from, to, station, transfer }) => {
    const recordAt = (service: number): CallRecord | undefined => {
      const call = timetable.services[service]!.calls.findIndex((it) => it.station === station);
      return records.get(`${service} ${call}`);
    };
    const arrived = recordAt(from)?.arrived ?? null;
    const departed = recordAt(to)?.departed ?? null;
    if (departed === null) return null;
    return arrived !== null && departed >= arrived + transfer;
  });
}

/** Whose the delay was that the services had at their last arrivals, and where it was lost in waiting. */
export function delaysOf(
  { timetable }: World,
  { trains }: EngineState,
): Pick<SessionResult, 'delay' | 'waits'> {
  const delay = { entry: 0, own: 0, knockOn: 0, recovered: 0 };
  const waits = new Map<string, SessionWait>();
  trains.forEach(({ calls }, waiter) => {
    const last = new Map<number, NonNullable<CallRecord['delay']>>();
    for (const { service, call, arrived, delay: parts } of calls) {
      const isBooked = (timetable.services[service]?.calls[call]?.arrive ?? null) !== null;
      if (arrived !== null && isBooked && parts !== null) last.set(service, parts);
    }
    for (const { entry, own, lost, recovered } of last.values()) {
      delay.entry += entry;
      delay.own += own;
      delay.recovered += recovered;
      for (const { train, place, time } of lost) {
        if (train < 0) delay.own += time;
        else delay.knockOn += time;
        const key = `${waiter} ${train} ${place}`;
        const before = waits.get(key)?.time ?? 0;
        waits.set(key, { waiter, train, place, time: before + time });
      }
    }
  });
  return { delay, waits: [...waits.values()] };
}

/** Trains that stand elsewhere than the timetable has them at the beginning, or the other way round. */
export function elsewhereOf(
  { storedPlaces }: TimetableFile,
  now: readonly Stored[],
  { stock }: World,
): number[] {
  const at = (places: readonly Stored[]): Map<string, string> =>
    new Map(places.map(({ train, block, towards }) => [train, `${block} ${towards}`]));
  const [before, after] = [at(storedPlaces), at(now)];
  return stock.trains
    .filter(({ file }) => before.get(file.id) !== after.get(file.id))
    .map(({ index }) => index);
}

/** Calls as run, by service and call. */
const recordsOf = ({ trains }: EngineState): Map<string, CallRecord> =>
  new Map(
    trains.flatMap(({ calls }) => calls.map((it) => [`${it.service} ${it.call}`, it] as const)),
  );

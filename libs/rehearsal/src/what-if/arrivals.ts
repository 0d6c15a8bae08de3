import { isCancelled, type EngineState, type World } from '@blockbell/railway';

/** When a train arrives at a call, fast ms, without a command and with it; null: not within the time looked at. */
export interface ArrivalChange {
  readonly train: number;
  readonly service: number;
  readonly call: number;
  readonly before: number | null;
  readonly after: number | null;
  /** Where, as an index of the stations. */
  readonly station: number;
  /** With the command its service is not run. */
  readonly cancelled: boolean;
  /** Only with the command its service is run at all. */
  readonly added: boolean;
}

/** A course of a session: its memory at the end, with the world it ran in. */
interface Course {
  readonly world: World;
  readonly state: EngineState;
}

interface Arrival extends Pick<ArrivalChange, 'train' | 'service' | 'call'> {
  readonly at: number;
}

/** Differences below this are of no interest to anybody, fast ms. */
const NOTEWORTHY = 30_000;

export type Arrivals = ReadonlyMap<string, Arrival>;

/** Every arrival there has been. */
export function arrivalsOf({ trains }: EngineState): Arrivals {
  const found = new Map<string, Arrival>();
  trains.forEach(({ calls }, train) => {
    for (const { service, call, arrived } of calls)
      if (arrived !== null)
        found.set(`${train} ${service} ${call}`, { train, service, call, at: arrived });
  });
  return found;
}

/** What differs between two courses of one session after the arrivals that both had, up to `until`. */
export function compareArrivals(
  had: Arrivals,
  before: Course,
  after: Course,
  until: number,
): { readonly changes: ArrivalChange[]; readonly compared: number } {
  const one = arrivalsOf(before.state);
  const other = arrivalsOf(after.state);
  const keys = [...new Set([...one.keys(), ...other.keys()])].filter((key) => !had.has(key));
  const rows = keys.map((key): ArrivalChange => {
    const { train, service, call } = (one.get(key) ?? other.get(key))!;
    const at = (of: Arrivals): number | null => {
      const found = of.get(key);
      return found === undefined ? null : Math.round(found.at);
    };
    const cancelled = isCancelled(after, service) && !isCancelled(before, service);
    const { station } = after.world.timetable.services[service]!.calls[call]!;
    const added = before.world.timetable.services[service] === undefined;
    return { train, service, call, before: at(one), after: at(other), station, cancelled, added };
  });
  const apart = (row: ArrivalChange): number =>
    Math.abs((row.before ?? until) - (row.after ?? until));
  const when = ({ before: at, after: then }: ArrivalChange): number => at ?? then ?? until;
  const changes = rows
    .filter((row) => apart(row) >= NOTEWORTHY)
    .sort((a, b) => when(a) - when(b) || a.train - b.train || a.call - b.call);
  return { changes, compared: rows.length };
}

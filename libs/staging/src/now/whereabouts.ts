import {
  sceneTracks,
  useKey,
  type StandingTrain,
  type World,
  type YardScene,
} from '@blockbell/railway';
import type { BookedStay, BookedYard } from '../booked/booked-yard.js';

/** What is known of a train from outside the engine. */
export interface Whereabouts {
  /** The elements that it holds, from its rear on; empty: it is not on the layout. */
  readonly holds: readonly number[];
  /** The calls that it has made or is making, the last one last. */
  readonly calls: readonly {
    readonly service: number;
    readonly call: number;
    readonly departed: number | null;
  }[];
}

/** What is known of a session from outside the engine, for its yards. */
export interface YardKnown {
  readonly trains: readonly Whereabouts[];
  /** By `yard track`, as the session row has it: which arrival put by rules was the last there; tracks that got none are not named. */
  readonly used: Readonly<Record<string, number>>;
  /** Fast-clock ms. */
  readonly fast: number;
}

/** The yard with all that hold a track of it, from what is known outside the engine. */
export function sceneNow(
  world: World,
  yard: BookedYard,
  { trains, used, fast }: YardKnown,
): YardScene {
  const { stock } = world;
  const holder = new Map(
    trains.flatMap(({ holds }, train) =>
      holds.map((element): [number, number] => [element, train]),
    ),
  );
  return {
    fast,
    tracks: sceneTracks(world.layout, yard.station, {
      occupant: (_, block, index): StandingTrain | null => {
        const train = holder.get(block);
        if (train === undefined) return null;
        const stay = stayAt(world, yard, trains[train]!, train, index);
        const berth = stay?.berths.find((it) => it.track === index);
        const depart = stay === null ? -Infinity : (stay.booked.depart ?? Infinity);
        return { train, class: stock.trains[train]!.file.class, depart, out: berth?.out ?? 'a' };
      },
      lastUsed: (index) => used[useKey(yard.station, index)] ?? 0,
    }),
  };
}

/** The stay that a train makes in a track now, or comes there for; null: it is leaving, or only runs through. */
export function stayAt(
  world: World,
  yard: BookedYard,
  where: Whereabouts,
  train: number,
  track: number,
): BookedStay | null {
  const present = stayNow(yard, where, train);
  if (present !== null || isLeaving(yard, where, train)) return present;
  const next = stayNext(world, yard, where, train);
  return next?.berths.some((it) => it.track === track) === true ? next : null;
}

/** Whether the last call a train has left was in the yard. */
function isLeaving({ stays }: BookedYard, { calls }: Whereabouts, train: number): boolean {
  const last = calls.at(-1);
  if (last === undefined || last.departed === null) return false;
  return stays.some((it) => it.train === train && it.calls.some((call) => sameCall(call, last)));
}

/** The stay that a train makes in the yard now; null: it makes none. */
function stayNow({ stays }: BookedYard, { calls }: Whereabouts, train: number): BookedStay | null {
  const last = calls.at(-1);
  const own = stays.filter((stay) => stay.train === train);
  if (last === undefined) return own.find(({ stop }) => stop === 0) ?? null;
  if (last.departed !== null) return null;
  return own.find((stay) => stay.calls.some((it) => sameCall(it, last))) ?? null;
}

/** The next stay in the yard that a train comes to, at its next stop or after others; null: it comes there no more. */
export function stayNext(
  world: World,
  yard: BookedYard,
  { calls }: Whereabouts,
  train: number,
): BookedStay | null {
  const last = calls.at(-1);
  const { stops } = world.graphs[train]!;
  const stop =
    last === undefined ? 0 : stops.findIndex((it) => it.calls.some((call) => sameCall(call, last)));
  return yard.stays.find((it) => it.train === train && it.stop > stop) ?? null;
}

const sameCall = (
  one: { readonly service: number; readonly call: number },
  other: { readonly service: number; readonly call: number },
): boolean => one.service === other.service && one.call === other.call;

import {
  buriedBy,
  buriers,
  decideTrack,
  freeFrom,
  spareIn,
  trainsIn,
  type Berth,
  type ComingTrain,
  type TrackDecision,
  type World,
  type YardRulesFile,
  type YardScene,
} from '@blockbell/railway';
import type { BookedStay, BookedYard } from '../booked/booked-yard.js';
import { sceneNow, stayAt, stayNext, type Whereabouts, type YardKnown } from './whereabouts.js';

/** A train that stands in a track of the yard. */
export interface YardTrain {
  readonly train: number;
  /** Fast-clock ms at which it is booked to leave; null: it stays. */
  readonly depart: number | null;
  /** Trains between it and the end it leaves by. */
  readonly behind: readonly number[];
}

/** A track of a yard as it is now. Lengths in mm. */
export interface YardTrackNow {
  readonly name: string;
  readonly length: number;
  readonly used: number;
  /** What the longest train may have that could still stand there. */
  readonly free: number;
  /** From end a to end b. */
  readonly trains: readonly YardTrain[];
}

/** What it would mean to put a coming train into a track. */
export interface TrackOption {
  readonly track: string;
  readonly hasRoom: boolean;
  /** mm left when it stands there. */
  readonly spare: number;
  /** Trains that could not leave when booked, with it in their way. */
  readonly buries: readonly number[];
  /** Trains that would be in its way when it is booked to leave. */
  readonly buriedBy: readonly number[];
}

/** A train that comes to the yard, at its next stop or after others. */
export interface ComingNow {
  readonly train: number;
  /** The call that it makes there. */
  readonly call: { readonly service: number; readonly call: number };
  /** Fast-clock ms; null: no time is booked. */
  readonly arrive: number | null;
  readonly depart: number | null;
  readonly options: readonly TrackOption[];
  /** The track that the rules would give it now; null: they have none for it, or there are none. */
  readonly byRules: string | null;
}

export interface YardNow {
  readonly tracks: readonly YardTrackNow[];
  /** The next to come first. */
  readonly nextIn: readonly ComingNow[];
  /** The next to leave first; trains that stay are left out. */
  readonly nextOut: readonly (YardTrain & { readonly track: string })[];
}

/** A yard as the trains stand now, and what is to come. `rules` null: it is worked by none. */
export function yardNow(
  world: World,
  yard: BookedYard,
  known: YardKnown,
  rules: YardRulesFile | null,
): YardNow {
  const { trains } = known;
  const scene = sceneNow(world, yard, known);
  const tracks = scene.tracks.map((track, index): YardTrackNow => {
    const there = trainsIn(track);
    return {
      name: track.name,
      length: track.length,
      used: there.reduce((sum, { train }) => sum + world.stock.trains[train]!.length, 0),
      free: Math.max(0, spareIn(track, 0)),
      trains: there.map(({ train, out }, place) => ({
        train,
        depart: departOf(stayAt(world, yard, trains[train]!, train, index)),
        behind: (out === 'a' ? there.slice(0, place) : there.slice(place + 1)).map(
          (it) => it.train,
        ),
      })),
    };
  });
  return {
    tracks,
    nextIn: trains
      .flatMap((where, train) => comingNow(world, yard, scene, where, train, rules))
      .sort((a, b) => (a.arrive ?? 0) - (b.arrive ?? 0) || a.train - b.train),
    nextOut: tracks
      .flatMap(({ name, trains: there }) => there.map((it) => ({ ...it, track: name })))
      .filter(({ depart }) => depart !== null)
      .sort((a, b) => a.depart! - b.depart! || a.train - b.train),
  };
}

const departOf = (stay: BookedStay | null): number | null => stay?.booked.depart ?? null;

function comingNow(
  world: World,
  yard: BookedYard,
  scene: YardScene,
  where: Whereabouts,
  train: number,
  rules: YardRulesFile | null,
): ComingNow[] {
  const stay = stayNext(world, yard, where, train);
  const [call] = stay?.calls ?? [];
  if (stay === null || call === undefined) return [];
  const { file, length } = world.stock.trains[train]!;
  const coming: ComingTrain = {
    train,
    id: file.id,
    class: file.class,
    length,
    visit: stay.stop,
    depart: stay.booked.depart ?? Infinity,
    berths: stay.berths,
  };
  return [
    {
      train,
      call,
      arrive: stay.booked.arrive,
      depart: stay.booked.depart,
      options: stay.berths.map((berth) => optionOf(scene, coming, berth)),
      byRules: rules === null ? null : trackOf(scene, decideTrack(rules, scene, coming, null)),
    },
  ];
}

function optionOf(scene: YardScene, coming: ComingTrain, berth: Berth): TrackOption {
  const track = scene.tracks[berth.track]!;
  return {
    track: track.name,
    hasRoom: freeFrom(track, berth.in) >= berth.needs,
    spare: Math.max(0, spareIn(track, coming.length)),
    buries: buriedBy(track, coming, berth).map(({ train }) => train),
    buriedBy: buriers(track, coming, berth).map(({ train }) => train),
  };
}

function trackOf(scene: YardScene, decision: TrackDecision): string | null {
  if (decision.kind !== 'take') return null;
  return scene.tracks[decision.offers[0]!.berths[0]!.track]!.name;
}

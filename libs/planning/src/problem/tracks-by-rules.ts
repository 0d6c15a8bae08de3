import {
  berthsOf,
  blockOf,
  bookedToLeave,
  callTo,
  decideTrack,
  endOut,
  restsAtEnd,
  sceneTracks,
  useKey,
  yardTracks,
  type Berth,
  type ComingTrain,
  type SceneTrack,
  type StandingTrain,
  type World,
} from '@blockbell/railway';
import type { Situation, TrainSituation } from '../situation/situation.js';

type WishedTrack = TrainSituation['tracks'][number];

/** A train that comes to a staging yard with its next stop, and has its track still to be chosen. */
interface Coming {
  readonly train: number;
  readonly station: number;
  readonly leg: number;
  readonly arrive: number;
}

/**
 * By train: the track that the rules of the staging yard before it would give it as things are, as a wish for its leg; null: no rules
 * say anything, or they have none for it now. Those booked to come first choose first, and are there for the next.
 */
export function tracksByRules(world: World, situation: Situation): readonly (WishedTrack | null)[] {
  const wished: (WishedTrack | null)[] = situation.trains.map(() => null);
  if (situation.staging.rules === null) return wished;
  const filled = new Map<number, SceneTrack[]>();
  for (const coming of comingTrains(world, situation)) {
    const { station, train, leg } = coming;
    const tracks = filled.get(station) ?? sceneOf(world, situation, station);
    const berth = chosen(world, situation, coming, tracks);
    if (berth === null) continue;
    filled.set(
      station,
      tracks.map((track, at) =>
        at === berth.track ? withTrain(track, standing(world, coming, berth), berth) : track,
      ),
    );
    wished[train] = {
      leg,
      blocks: [...world.layout.stations[station]!.tracks[berth.track]!.blocks],
    };
  }
  return wished;
}

/** In the order in which they are booked to come. */
function comingTrains(world: World, { trains, staging }: Situation): Coming[] {
  return trains
    .flatMap((state, train): Coming[] => {
      if (state === null) return [];
      const graph = world.graphs[train]!;
      const { leg, heading } = state.place;
      const to = callTo(graph, leg);
      if (to === null || graph.stops[leg + 1]?.stops !== true) return [];
      const { station, arrive } = world.timetable.services[to.service]!.calls[to.call]!;
      const { file, tracks } = world.layout.stations[station]!;
      const isThere = tracks.some(({ blocks }) => blocks.includes(blockOf(heading)));
      return isThere || staging.rules?.yards.every(({ yard }) => yard !== file.id) !== false
        ? []
        : [{ train, station, leg, arrive: arrive ?? 0 }];
    })
    .sort((a, b) => a.arrive - b.arrive || a.train - b.train);
}

/** The berth that comes first by the rules; null: they hold the train, send it elsewhere or ask a person. */
function chosen(
  world: World,
  { fast, trains, staging }: Situation,
  { train, station, leg }: Coming,
  tracks: readonly SceneTrack[],
): Berth | null {
  const { id } = world.layout.stations[station]!.file;
  const rules = staging.rules!.yards.find(({ yard }) => yard === id)!;
  const graph = world.graphs[train]!;
  const stock = world.stock.trains[train]!;
  const stop = leg + 1;
  const rests = restsAtEnd(graph, [graph.nodeFor(trains[train]!.place)], stop);
  const coming: ComingTrain = {
    train,
    id: stock.file.id,
    class: stock.file.class,
    length: stock.length,
    visit: stop,
    depart: bookedToLeave(world, train, stop) ?? Infinity,
    berths: berthsOf(world.layout, stock, graph, stop, yardTracks(world.layout, station), rests),
  };
  const decision = decideTrack(rules, { fast, tracks }, coming, null);
  return decision.kind === 'take' ? decision.offers[0]!.berths[0]! : null;
}

/** The yard with all that hold a track of it. */
function sceneOf(world: World, { trains, staging }: Situation, station: number): SceneTrack[] {
  return sceneTracks(world.layout, station, {
    occupant: (track, block) => {
      const train = trains.findIndex(
        (it) => it?.held.some(({ resource }) => resource === block) === true,
      );
      const state = trains[train] ?? null;
      if (state === null) return null;
      const { class: kind } = world.stock.trains[train]!.file;
      const graph = world.graphs[train]!;
      const ahead = track.ends.get(state.place.heading);
      if (ahead === undefined || !state.place.atStop)
        return { train, class: kind, depart: -Infinity, out: ahead ?? 'a' };
      const depart = bookedToLeave(world, train, state.place.leg) ?? Infinity;
      return { train, class: kind, depart, out: endOut(graph, graph.nodeFor(state.place), ahead) };
    },
    lastUsed: (track) => staging.used[useKey(station, track)] ?? 0,
  });
}

const standing = (world: World, { train, leg }: Coming, { out }: Berth): StandingTrain => ({
  train,
  class: world.stock.trains[train]!.file.class,
  depart: bookedToLeave(world, train, leg + 1) ?? Infinity,
  out,
});

/** The track with one more train in it, as far in as it is free. */
function withTrain(track: SceneTrack, train: StandingTrain, berth: Berth): SceneTrack {
  const order = track.slots.map((_, slot) => slot);
  if (berth.in === 'b') order.reverse();
  const first = order.findIndex((slot) => track.slots[slot] !== null);
  const free = first < 0 ? order : order.slice(0, first);
  const taken = free.slice(-berth.needs);
  return { ...track, slots: track.slots.map((it, slot) => (taken.includes(slot) ? train : it)) };
}

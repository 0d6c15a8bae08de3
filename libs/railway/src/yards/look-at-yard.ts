import { fastNow } from '../timetable/fast-clock.js';
import type { ElementIndex } from '../layout/layout.js';
import type { Seen } from '../session/writer.js';
import { callTo, legStops } from '../timetable/legs.js';
import { berthsOf, endOut, restsAtEnd, yardTracks, type NamedTrack } from './berths.js';
import { bookedToLeave } from './booked.js';
import { sceneTracks } from './scene-tracks.js';
import type { YardRulesFile } from './staging-rules-file.js';
import { useKey } from './staging-state.js';
import type { ComingTrain, StandingTrain, YardScene } from './yard-scene.js';

/**
 * The staging yard that a train comes to at the end of the leg on which its held way ends, as an index of the stations; −1 when that
 * is none, or it does not stop there.
 */
export function yardAhead({ world, state }: Seen, index: number): number {
  const graph = world.graphs[index]!;
  const { leg } = graph.placeOf(state.trains[index]!.node);
  const to = callTo(graph, leg);
  if (to === null || !legStops(graph, leg)) return -1;
  const { station } = world.timetable.services[to.service]!.calls[to.call]!;
  return world.layout.stations[station]!.file.kind === 'staging-yard' ? station : -1;
}

/** The stop of its work that a train comes to at the end of the leg on which its held way ends. */
export const stopAhead = ({ world, state }: Seen, index: number): number =>
  world.graphs[index]!.placeOf(state.trains[index]!.node).leg + 1;

/** The rules that a yard is worked by; null: none. */
export function rulesOf({ world, state }: Seen, station: number): YardRulesFile | null {
  const { id } = world.layout.stations[station]!.file;
  return state.staging.rules?.yards.find(({ yard }) => yard === id) ?? null;
}

/** The yard as it is now, with all who stand in it or hold a way into it, save for one train. */
export function sceneOf({ world, state }: Seen, station: number, but: number): YardScene {
  return {
    fast: fastNow(state.session.clock, state.now),
    tracks: sceneTracks(world.layout, station, {
      occupant: (track, block) => occupant({ world, state }, track, block, but),
      lastUsed: (track) => state.staging.lastUsed[useKey(station, track)] ?? 0,
    }),
  };
}

/** The train that holds a block of a track. */
function occupant(
  { world, state }: Seen,
  track: NamedTrack,
  block: ElementIndex,
  but: number,
): StandingTrain | null {
  const index = state.elements[block]!.holder;
  if (index < 0 || index === but) return null;
  const train = state.trains[index]!;
  const graph = world.graphs[index]!;
  const { class: kind } = world.stock.trains[index]!.file;
  const heading = train.path.findLast((item) => item.heading >= 0 && track.ends.has(item.heading));
  const ahead = track.ends.get(heading?.heading ?? -1) ?? 'a';
  const place = graph.placeOf(train.node);
  const restsHere = track.ends.has(place.heading) && place.atStop;
  if (!restsHere) return { train: index, class: kind, depart: -Infinity, out: ahead };
  const depart = bookedToLeave(world, index, place.leg) ?? Infinity;
  return { train: index, class: kind, depart, out: endOut(graph, train.node, ahead) };
}

/** A train on its way to a yard, with the places that it can still come to there. */
export function comingTo({ world, state }: Seen, station: number, index: number): ComingTrain {
  const graph = world.graphs[index]!;
  const stock = world.stock.trains[index]!;
  const stop = stopAhead({ world, state }, index);
  return {
    train: index,
    id: stock.file.id,
    class: stock.file.class,
    length: stock.length,
    visit: stop,
    depart: bookedToLeave(world, index, stop) ?? Infinity,
    berths: berthsOf(
      world.layout,
      stock,
      graph,
      stop,
      yardTracks(world.layout, station),
      restsAtEnd(graph, [state.trains[index]!.node], stop),
    ),
  };
}

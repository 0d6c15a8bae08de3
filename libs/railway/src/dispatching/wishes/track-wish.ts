import { blockOf, type ElementIndex } from '../../layout/layout.js';
import { refusal, type Refusal } from '../../session/refusal.js';
import type { Seen, Writer } from '../../session/writer.js';
import type { WorkingGraph } from '../../timetable/working-graph.js';
import type { Move } from '../safety-problem.js';
import type { TrackWish } from './wish.js';

/** Places looked at for the ways into a track. */
const REACH = 300;

/**
 * A dispatcher chooses the track of a call to come, of those the timetable allows; `track` null: takes the choice back.
 * Refused where the train has its way there already, or can't come to the track or on from it.
 */
export function wishTrack(
  w: Writer,
  index: number,
  ref: { readonly service: number; readonly call: number },
  track: string | null,
): Refusal | null {
  const graph = w.world.graphs[index]!;
  const { label } = w.world.stock.trains[index]!.file;
  const leg = legTo(graph, ref);
  if (leg === null) {
    return refusal(
      'no-such-call',
      `${label} makes no such call, or stands there from the beginning.`,
    );
  }
  const { wishes } = w.state.dispatching;
  const others = wishes.tracks.filter((it) => it.train !== index || it.leg !== leg);
  if (track === null) {
    if (others.length === wishes.tracks.length) {
      return refusal('no-wish', `No track was chosen for ${label} there.`);
    }
    return take(w, index, others);
  }
  const wish = { train: index, leg, track };
  return unfit(w, wish) ?? take(w, index, [...others, wish]);
}

function take(w: Writer, index: number, tracks: TrackWish[]): null {
  w.train(index);
  w.state.dispatching.wishes.tracks = tracks;
  w.state.dispatching.due = true;
  return null;
}

function unfit(w: Writer, wish: TrackWish): Refusal | null {
  const { train: index, leg, track } = wish;
  const graph = w.world.graphs[index]!;
  const train = w.state.trains[index]!;
  const { label } = w.world.stock.trains[index]!.file;
  const station = stationName(w, wish);
  if (train.activity.kind === 'absent') return refusal('absent', `${label} is not on the layout.`);
  if (train.leg > leg) return refusal('too-late', `${label} has been at ${station} already.`);
  if (graph.placeOf(train.node).leg > leg) {
    const text = `${label} has its way into ${station} already; give the way back first.`;
    return refusal('way-set', text);
  }
  const blocks = blocksOf(graph, wish);
  if (blocks === null) {
    const known = graph.stops[leg + 1]!.tracks.map(({ name }) => name).join(', ');
    return refusal(
      'no-such-track',
      `By the timetable ${label} may stand at ${station} in ${known} only, not in ${track}.`,
    );
  }
  const isUsable = blocks.some((block) =>
    [block * 2, block * 2 + 1].some((heading) => graph.isTarget(leg, heading)),
  );
  if (!isUsable || (graph.placeOf(train.node).leg === leg && !leadsTo(graph, train.node, wish))) {
    return refusal(
      'no-way-on',
      `${label} can’t come into ${track} at ${station}, stand there and go on with its work. Choose another track` +
        (w.world.stock.trains[index]!.file.canReverse
          ? '.'
          : '; it may not run with its rear leading, and no engine runs round its train here.'),
    );
  }
  return null;
}

/**
 * Which moves of a train agree with the track chosen for the leg it is on; null: none is chosen, or a train has waited too long,
 * so that all do. A choice that no move agrees with any more is dropped, and it is said.
 */
export function agreeing(w: Writer, index: number): ((move: Move) => boolean) | null {
  const { wishes, starving } = w.state.dispatching;
  const graph = w.world.graphs[index]!;
  const { node } = w.state.trains[index]!;
  const { leg } = graph.placeOf(node);
  const wish = wishes.tracks.find((it) => it.train === index && it.leg === leg);
  if (wish === undefined || starving >= 0) return null;
  const agreed = graph.moves(node).filter(({ to }) => leadsTo(graph, to, wish));
  if (agreed.length > 0) return (move) => agreed.includes(move);
  dropTrackWish(w, wish, 'no way leads there from where it is now');
  return null;
}

/** The choices for trains that have come to the call are of no use any more. */
export function forgetTrackWishes(w: Writer): void {
  const { wishes } = w.state.dispatching;
  for (const wish of wishes.tracks) {
    if (w.state.trains[wish.train]!.leg <= wish.leg) continue;
    wishes.tracks = wishes.tracks.filter((it) => it !== wish);
    w.train(wish.train);
  }
}

/** The choice for the leg that a train is on is not kept any more, for the reason given. */
export function dropTrackWishes(w: Writer, index: number, why: string): void {
  const { leg } = w.world.graphs[index]!.placeOf(w.state.trains[index]!.node);
  const wish = w.state.dispatching.wishes.tracks.find((it) => it.train === index && it.leg === leg);
  if (wish !== undefined) dropTrackWish(w, wish, why);
}

function dropTrackWish(w: Writer, wish: TrackWish, why: string): void {
  const { wishes } = w.state.dispatching;
  wishes.tracks = wishes.tracks.filter((it) => it !== wish);
  w.train(wish.train);
  const { label } = w.world.stock.trains[wish.train]!.file;
  w.log(
    `That ${label} goes into ${wish.track} at ${stationName(w, wish)} is dropped: ${why}.`,
    wish.train,
  );
}

/** The leg that ends at a call; null where the train makes no such call, or stands there when the session begins. */
function legTo(
  { stops }: WorkingGraph,
  { service, call }: { readonly service: number; readonly call: number },
): number | null {
  const stop = stops.findIndex(({ calls }) =>
    calls.some((it) => it.service === service && it.call === call),
  );
  return stop < 1 ? null : stop - 1;
}

/** The blocks of the track that is wished for; null where the call has no track of that name. */
export const blocksOf = (
  { stops }: WorkingGraph,
  { leg, track }: TrackWish,
): readonly ElementIndex[] | null =>
  stops[leg + 1]?.tracks.find(({ name }) => name === track)?.blocks ?? null;

/** Whether a way leads on from a place into the track, or ends there. */
function leadsTo(graph: WorkingGraph, start: number, wish: TrackWish): boolean {
  const blocks = blocksOf(graph, wish);
  const seen = new Set<number>([start]);
  for (const node of seen) {
    const { leg, heading } = graph.placeOf(node);
    if (leg > wish.leg) {
      if (blocks?.includes(blockOf(heading)) === true) return true;
      continue;
    }
    if (seen.size > REACH) return true;
    for (const { to } of graph.moves(node)) seen.add(to);
  }
  return false;
}

function stationName({ world }: Seen, { train, leg }: TrackWish): string {
  const [ref] = world.graphs[train]!.stops[leg + 1]!.calls;
  const call = world.timetable.services[ref!.service]!.calls[ref!.call]!;
  return world.layout.stations[call.station]!.file.name;
}

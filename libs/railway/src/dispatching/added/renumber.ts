import type { EngineState, TrainState } from '../../session/state.js';
import type { Writer } from '../../session/writer.js';
import type { WorkingGraph } from '../../timetable/working-graph.js';
import { GONE } from '../wishes/wish.js';
import type { CallRef } from '../../timetable/working-stops.js';

/** Where a train of an old working is in its new one: its leg, and the leg of places that it will come to. */
export interface Renumbered {
  readonly leg: number;
  readonly node: number;
  readonly nodes: readonly number[];
  /** The new number of a leg of the old working that the train is on or comes to; null: it is no more. */
  readonly legOf: (leg: number) => number | null;
}

/**
 * Finds a train's place in another graph of its work in which all that it has begun is the same. Stops are known again by the calls
 * made there.
 */
export function renumber(train: TrainState, old: WorkingGraph, graph: WorkingGraph): Renumbered {
  const stopOf = (ref: CallRef | undefined): number =>
    ref === undefined
      ? -1
      : graph.stops.findIndex(({ calls }) =>
          calls.some(({ service, call }) => service === ref.service && call === ref.call),
        );
  /** The leg that ends at the same call. */
  const legTo = (leg: number): number | null => {
    const stop = stopOf(old.stops[leg + 1]?.calls[0]);
    return stop < 1 ? null : stop - 1;
  };
  const leg = train.arrivedAt === null ? (legTo(train.leg) ?? 0) : standsAt(train, old, stopOf);
  const legAt = (at: number): number =>
    at === train.leg ? leg : Math.max(0, stopOf(old.stops[at]?.calls[0]));
  const nodeOf = (node: number): number => {
    const place = old.placeOf(node);
    return graph.nodeFor({ ...place, leg: legAt(place.leg) });
  };
  return { leg, node: nodeOf(train.node), nodes: train.nodes.map(nodeOf), legOf: legTo };
}

/** The stop at which a train stands: that of the last call it has made and still has in its work, else where it began. */
function standsAt(
  train: TrainState,
  old: WorkingGraph,
  stopOf: (ref: CallRef | undefined) => number,
): number {
  for (let stop = train.leg; stop > 0; stop--) {
    for (const ref of old.stops[stop]?.calls ?? []) {
      const isMade = train.calls.some(
        ({ service, call, arrived }) =>
          service === ref.service && call === ref.call && arrived !== null,
      );
      const found = isMade ? stopOf(ref) : -1;
      if (found >= 0) return found;
    }
  }
  return 0;
}

/** What stands in the state by legs of a train's work gets their new numbers; what is about legs that are no more is left out. */
export function renumberMemory(w: Writer, index: number, { legOf }: Renumbered): void {
  const { wishes } = w.state.dispatching;
  wishes.tracks = wishes.tracks.flatMap((wish) => moved(wish, wish.train === index, legOf));
  wishes.firsts = wishes.firsts.flatMap((wish) => moved(wish, wish.first === index, legOf));
  wishes.cancellations = wishes.cancellations.map((it) =>
    it.train === index ? { ...it, leg: GONE, to: GONE, done: true } : it,
  );
  const { choices } = w.state.staging;
  const choice = choices[index] ?? null;
  const legToYard = choice === null ? null : legOf(choice.stop - 1);
  choices[index] =
    choice === null || legToYard === null ? null : { ...choice, stop: legToYard + 1 };
}

function moved<Wish extends { readonly leg: number }>(
  wish: Wish,
  isConcerned: boolean,
  legOf: Renumbered['legOf'],
): Wish[] {
  if (!isConcerned) return [wish];
  const leg = legOf(wish.leg);
  return leg === null ? [] : [{ ...wish, leg }];
}

/** The services of a train that it has begun, or has its way for. */
export function begunServices(state: EngineState, graph: WorkingGraph, index: number): Set<number> {
  const { leg, node, arrivedAt, calls } = state.trains[index]!;
  const last = Math.max(graph.placeOf(node).leg, arrivedAt === null ? leg + 1 : leg);
  const begun = new Set<number>();
  for (const { service, departed } of calls) if (departed !== null) begun.add(service);
  for (let stop = 1; stop <= last; stop++) {
    const ref = graph.stops[stop]?.calls[0];
    if (ref !== undefined) begun.add(ref.service);
  }
  return begun;
}

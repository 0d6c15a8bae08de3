import type { Writer } from '../session/writer.js';
import { clearDeadline, setDeadline } from '../session/deadlines.js';
import type { WaitReason } from '../session/wait-reason.js';
import { isApproachLocked } from '../interlocking/approach-locked.js';
import { brakingDistance } from '../movement/braking.js';
import { timeToTravel } from '../movement/motion.js';
import { headAt } from '../movement/train-motion.js';
import { legOf, legStops } from '../timetable/legs.js';
import { departureWait } from '../timetable/departure.js';
import { requestWait } from '../yards/leave-yard.js';
import { mmPerS2, um, umPerS } from '../units.js';

/** Way reserved ahead beyond the braking distance, as running time at full speed: turnouts must throw in it, ms. */
export const LOOK_AHEAD = 4000;

/**
 * Whether a train wants more way now. Null: it does. Otherwise what it waits for, or `null` reason with
 * `enough` when its way reaches far enough for the moment.
 */
export type Want = { readonly kind: 'wants' } | { readonly kind: 'enough' } | WaitReason;

export function wantOf(w: Writer, index: number): Want {
  const train = w.state.trains[index]!;
  const graph = w.world.graphs[index]!;
  if (train.activity.kind === 'absent') return { kind: 'finished' };
  if (train.activity.kind === 'halted') return { kind: 'halted', why: train.activity.why };
  if (!train.confirmed) return { kind: 'not-confirmed' };
  if (train.identity.certainty === 'ambiguous') return { kind: 'identity' };
  if (isApproachLocked(w.state, index)) return { kind: 'given-back' };
  if (train.path.length - 1 > train.authorised) return waitsForProof(w, index);
  if (graph.isGoal(train.node)) {
    // Its crew may keep it standing short of its last call.
    const isKeptShort = train.arrivedAt === null && train.handSpeed !== null;
    const isDone = train.activity.kind !== 'moving' && !isKeptShort;
    return isDone ? { kind: 'finished' } : { kind: 'enough' };
  }
  if (train.held) return { kind: 'held-by-person' };
  if (train.arrivedAt !== null)
    return departureWait(w, index) ?? askedFor(w, index) ?? { kind: 'wants' };
  if (legOf(graph, train.node) !== train.leg && stopsBefore(w, index)) return { kind: 'enough' };
  return reachesFar(w, index) ? { kind: 'enough' } : { kind: 'wants' };
}

/** Whether the rules of its yard keep it until it is asked for; while a train is starving, none do. */
const askedFor = (w: Writer, index: number): WaitReason | null =>
  w.state.dispatching.starving >= 0 ? null : requestWait(w, index);

/** Whether the held path ends at a call where the train stops. */
export function stopsBefore(w: Writer, index: number): boolean {
  const train = w.state.trains[index]!;
  const graph = w.world.graphs[index]!;
  for (let leg = train.leg; leg < legOf(graph, train.node); leg++) {
    if (legStops(graph, leg)) return true;
  }
  return false;
}

/** Names the drive waited for. What protected the way may need no waiting for any more: so authority is looked at anew. */
function waitsForProof(w: Writer, index: number): Want {
  const train = w.state.trains[index]!;
  w.follow({ kind: 'authority', train: index });
  const moving = train.path
    .slice(train.authorised + 1)
    .find(({ element }) => w.state.elements[element]!.proof === 'moving');
  return {
    kind: 'turnout-moving',
    element: moving?.element ?? train.path[train.authorised + 1]!.element,
  };
}

/** Far enough: braking distance from full speed and some running time beyond; else it is asked again in time. */
function reachesFar(w: Writer, index: number): boolean {
  const train = w.state.trains[index]!;
  const stock = w.world.stock.trains[index]!;
  const model = w.world.models[index]!;
  clearDeadline(w.state, 'request', index);
  if (train.activity.kind !== 'moving') return false;
  const top = umPerS(stock.topSpeed * 1000);
  const braking = brakingDistance(top, umPerS(0), mmPerS2(stock.braking));
  const ahead = train.mark * 1000 - headAt(model, train, w.now);
  const spare = ahead - braking - (top * LOOK_AHEAD) / 1000;
  if (spare <= 0) return false;
  const { nominal } = train.reckoning;
  const distance = um(headAt(model, train, w.now) + spare - nominal.position);
  const time = timeToTravel(nominal, model.nominal, distance);
  if (time !== null) {
    setDeadline(w.state, 'request', index, Math.max(nominal.since + time, w.now + 1));
  }
  return true;
}

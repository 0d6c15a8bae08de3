import { noteRoute } from '../dispatching/follow-plan.js';
import { adoptOrder, presentNodes } from '../dispatching/order.js';
import { grantByDetour } from '../dispatching/proven-order.js';
import type { Move, OrderStep } from '../dispatching/safety-problem.js';
import { firstWait } from '../dispatching/wishes/first-wish.js';
import { reserve } from '../interlocking/reservation.js';
import { obstacleOn } from '../interlocking/route-check.js';
import { neededFor } from '../interlocking/trail.js';
import { blockOf, type Heading, type Route } from '../layout/layout.js';
import { slotsTaken } from '../layout/standing-room.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { Seen, Writer } from '../session/writer.js';
import { yardTracks } from './berths.js';
import { rulesOf } from './look-at-yard.js';
import { awaitsTrain } from './open-services.js';

/**
 * Lets a train that stands in a staging yard and waits for its time go on to the next slot of its track, where the rules say
 * so: way is granted by the checks of every other way, and only where the proven order still brings every train home. It
 * stays at its call. Gives whether it goes.
 */
export function moveUp(w: Writer, index: number, wait: WaitReason): boolean {
  if (!mayMoveUp(w, index, wait)) return false;
  const graph = w.world.graphs[index]!;
  const place = graph.placeOf(w.state.trains[index]!.node);
  const route = place.atStop ? nextSlot(w, index, place.heading) : null;
  if (route === null || obstacleOn(w.world, w.state, index, route) !== null) return false;
  const to = graph.nodeFor({
    ...place,
    heading: route.to,
    trail: [...place.trail, ...route.steps],
  });
  if (graph.placeOf(to).leg !== place.leg || graph.distance(to) === Infinity) return false;
  const needs = neededFor(w.world.layout, route, graph.holds(to));
  const move = { to, needs, needsFreeOfSelf: [] };
  const order = firstWait(w, index, move) === null ? orderWith(w, index, move) : null;
  if (order === null) return false;
  noteRoute(w, index, place.leg, route.index);
  const train = w.train(index);
  train.node = to;
  train.nodes.push(to);
  adoptOrder(w, order);
  reserve(w, index, route);
  w.log(`${w.world.stock.trains[index]!.file.label} moves up in its track.`, index);
  return true;
}

/**
 * Whether the train has nothing to do but wait, neither a person nor a train whose turn is forced has it stay, and room in the
 * yard is still of use.
 */
function mayMoveUp(w: Writer, index: number, { kind }: WaitReason): boolean {
  const { state, orderBudget } = w;
  const { session, dispatching, staging, trains } = state;
  const { arrivedAt, activity, held, handSpeed } = trains[index]!;
  return (
    staging.rules?.yards.some((it) => it.moveUp === 'whenever-free') === true &&
    WAITS_FOR_TIME.has(kind) &&
    session.phase.kind === 'running' &&
    !session.departuresHeld &&
    arrivedAt !== null &&
    activity.kind !== 'absent' &&
    !held &&
    handSpeed === null &&
    dispatching.starving < 0 &&
    dispatching.proven &&
    orderBudget > 0 &&
    isWorkLeft(w)
  );
}

/** Whether a train still has calls to make, or a service waits for one. Else nobody comes any more: trains may be brought back to where they began. */
const isWorkLeft = ({ world, state }: Seen): boolean =>
  awaitsTrain(state) ||
  state.trains.some(
    ({ activity, leg }, index) =>
      (activity.kind === 'standing' || activity.kind === 'moving') &&
      leg < world.graphs[index]!.legCount,
  );

const WAITS_FOR_TIME: ReadonlySet<WaitReason['kind']> = new Set([
  'booked',
  'dwell',
  'connection',
  'not-asked-for',
  'finished',
]);

/** The way into the slot ahead in the same track, where the train fits; null where there is none, or no rule moves it up. */
function nextSlot({ world, state }: Seen, index: number, heading: Heading): Route | null {
  const { layout } = world;
  const station = layout.stations.findIndex(
    ({ file, tracks }) =>
      file.kind === 'staging-yard' &&
      tracks.some(({ blocks }) => blocks.includes(blockOf(heading))),
  );
  if (station < 0 || rulesOf({ world, state }, station)?.moveUp !== 'whenever-free') return null;
  const track = yardTracks(layout, station).find(({ ends }) => ends.has(heading))!;
  const { length } = world.stock.trains[index]!;
  const found = layout.routesFrom[heading]!.map((at) => layout.routes[at]!).find(
    ({ to, steps }) =>
      steps.length === 1 &&
      track.ends.has(to) &&
      slotsTaken(layout, track.blocks, to, length) !== null,
  );
  return found ?? null;
}

/** The proven order with the train further on; null where it does not tell that all still finish. */
function orderWith(w: Writer, index: number, move: Move): readonly OrderStep[] | null {
  const { order } = w.state.dispatching;
  w.readOrder(order.length);
  const grant = grantByDetour(w.world.safety, presentNodes(w), order, index, move);
  return grant.kind === 'safe' ? grant.order : null;
}

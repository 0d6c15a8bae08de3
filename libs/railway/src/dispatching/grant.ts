import { reserve } from '../interlocking/reservation.js';
import { reversePath } from '../interlocking/reverse.js';
import { arrive, depart } from '../timetable/progress.js';
import type { Writer } from '../session/writer.js';
import { forgetWait } from '../yards/yard-wait.js';
import { noteRoute } from './follow-plan.js';
import { adoptOrder } from './order.js';
import type { Move, OrderStep } from './safety-problem.js';

/** Carries out a move that is open and proven safe: reverses if it must, reserves the route, and notes the departure. */
export function grant(w: Writer, index: number, move: Move, order: readonly OrderStep[]): void {
  const graph = w.world.graphs[index]!;
  const train = w.train(index);
  const { route, reverses } = graph.meaningOf(train.node, move.to);
  if (route !== null) noteRoute(w, index, graph.placeOf(train.node).leg, route);
  if (reverses) {
    reversePath(w, index);
    // If the route is given back, the train stands here turned round.
    train.nodes = [graph.turnedNode(train.node)];
  }
  train.node = move.to;
  train.nodes.push(move.to);
  adoptOrder(w, order);
  forgetWait(w, index);
  depart(w, index);
  if (route === null) arrive(w, index);
  else reserve(w, index, w.world.layout.routes[route]!);
}

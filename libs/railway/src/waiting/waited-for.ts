import type { WaitReason } from '../session/wait-reason.js';
import type { EngineState } from '../session/state.js';
import type { Seen } from '../session/writer.js';

/** No train. */
export const NOBODY = -1;

/** The train that a wait is for; {@link NOBODY} where no other train's moving on would end it. */
export function waitedFor(seen: Seen, index: number, reason: WaitReason): number {
  const { world, state } = seen;
  switch (reason.kind) {
    case 'element-held':
    case 'section-claimed':
      return other(index, reason.by);
    case 'section-occupied':
      return other(index, state.sections[reason.section]!.claim);
    case 'gives-way':
    case 'plan-order':
    case 'order-given':
      return other(index, reason.to);
    case 'connection':
      return other(
        index,
        world.timetable.workings.findIndex(
          (working) => working?.services.includes(reason.service) === true,
        ),
      );
    case 'would-lock':
      return firstByOrder(seen, index);
    default:
      return NOBODY;
  }
}

const other = (index: number, train: number): number => (train === index ? NOBODY : train);

/** The element a wait is about: the track that can't be had, or else where the train's way ends; −1 off the railway. */
export function waitPlace({ world, state }: Seen, index: number, reason: WaitReason): number {
  switch (reason.kind) {
    case 'element-held':
    case 'possession':
    case 'turnout-failed':
    case 'turnout-moving':
    case 'own-tail':
      return reason.element;
    case 'section-claimed':
    case 'section-occupied':
      return world.layout.sections[reason.section]!.elements[0]!;
    default:
      return state.trains[index]!.path.at(-1)?.element ?? -1;
  }
}

/**
 * The train whose move must come first where going now would leave no order in which all finish: in the last proven order the
 * first that needs, before this train's turn, what its own move would take, else one that stands on what its move needs.
 */
function firstByOrder({ world, state }: Seen, index: number): number {
  const { order } = state.dispatching;
  const due = order.findIndex(({ train }) => train === index);
  if (due < 0) return NOBODY;
  const nodes = nodesOf(state);
  const graph = world.graphs[index]!;
  const from = nodes[index]!;
  const had = graph.holds(from);
  const taken = new Set(graph.holds(order[due]!.to).filter((it) => !had.includes(it)));
  const reached = nodes.slice();
  for (const { train, to } of order.slice(0, due)) {
    const moves = world.graphs[train]!.moves(reached[train]!);
    if (moves.some((move) => move.to === to && move.needs.some((it) => taken.has(it))))
      return train;
    reached[train] = to;
  }
  const own = graph.moves(from).find(({ to }) => to === order[due]!.to);
  return nodes.findIndex(
    (node, train) =>
      train !== index && world.graphs[train]!.holds(node).some((it) => own?.needs.includes(it)),
  );
}

const nodesOf = ({ trains }: EngineState): number[] => trains.map(({ node }) => node);

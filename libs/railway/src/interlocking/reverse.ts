import { opposite } from '../layout/layout.js';
import type { PathItem } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { rangeAt } from '../movement/reckoning.js';
import { placeHead } from '../movement/train-motion.js';
import { leadingUnseen } from '../occupancy/extent.js';
import { instant } from '../units.js';
import { setLimits } from './authority.js';
import { pathEnd, piecesOf } from './held-path.js';
import { freeOverlap } from './overlap.js';
import { show } from './signals.js';

/**
 * Turns a standing train round: its rear leads from now on. What it stands on becomes its path the other way;
 * the proof of its tail begins anew, and no overlap is needed beyond the other end. Only for trains that stand in blocks alone.
 */
export function reversePath(w: Writer, index: number): void {
  const train = w.train(index);
  const stock = w.world.stock.trains[index]!;
  const end = pathEnd(train.path);
  freeOverlap(w, index);
  for (const item of train.path) show(w, item.heading, 'stop');
  const head = rangeAt(w.world.models[index]!, train.reckoning, instant(w.now));
  const low = Math.floor(end - head.high / 1000) + stock.length;
  const high = Math.ceil(end - head.low / 1000) + stock.length;
  train.path = turned(w, train.path, end);
  train.frontLeads = !train.frontLeads;
  train.authorised = train.path.length - 1;
  train.blind = [];
  train.proving = [];
  train.tail = low - stock.length;
  train.edge = furthestEdge(w, index, high);
  setLimits(w, index);
  placeHead(w, index, low, high);
  w.state.counts.reversals++;
}

/** The same blocks in the other direction, measured from what was their far end. */
function turned(w: Writer, path: readonly PathItem[], end: number): PathItem[] {
  return path.toReversed().map((item) => {
    const heading = opposite(item.heading);
    const start = end - item.end;
    const { leg } = w.world.layout.blockSteps[heading]!;
    return {
      element: item.element,
      route: -1,
      step: 0,
      heading,
      start,
      end: start + leg.length,
      releaseAt: start + leg.length + leg.foulingBeyondTo,
    };
  });
}

/** Whether the train stands in blocks alone, with everything behind its tail freed and nothing held ahead of it. */
export function mayReverse(w: Writer, index: number): boolean {
  const { path, edge } = w.state.trains[index]!;
  return path.every(({ heading }) => heading >= 0) && edge >= path.at(-1)!.start;
}

/** The start of the furthest section ahead that already sees the new head, so that it is not awaited again. */
function furthestEdge(w: Writer, index: number, head: number): number {
  const train = w.state.trains[index]!;
  const lead = leadingUnseen(w.world.stock.trains[index]!, train);
  const reached = piecesOf(w.world.layout, train.path).filter(
    ({ section, start }) =>
      section >= 0 && start + lead <= head && w.state.sections[section]!.belief === 'occupied',
  );
  return Math.max(0, ...reached.map(({ start }) => start + lead));
}

import { forgetFindings } from '../dispatching/order.js';
import { setLimits } from '../interlocking/authority.js';
import { pathInBlock } from '../interlocking/held-path.js';
import { freeOverlap } from '../interlocking/overlap.js';
import { freeItem } from '../interlocking/release.js';
import { showSignals } from '../interlocking/signals.js';
import type { Heading } from '../layout/layout.js';
import { placeHead } from '../movement/train-motion.js';
import { forgetWait } from '../yards/yard-wait.js';
import { confirmPlace } from './confirm-place.js';
import { clearDeadline } from './deadlines.js';
import { occupiedOnPath } from './line-up.js';
import { leftOpen } from './run-on.js';
import type { Writer } from './writer.js';

/** The place of a train that stands alone in one block, with the work it still has to do, as a node of its graph. */
export function nodeIn(w: Writer, index: number, heading: Heading): number {
  const { leg, frontLeads, arrivedAt } = w.state.trains[index]!;
  const trail = [w.world.layout.blockSteps[heading]!];
  const atStop = arrivedAt !== null;
  return w.world.graphs[index]!.nodeFor({ leg, heading, frontLeads, atStop, trail });
}

/** Takes a train off the layout: frees everything it holds. */
export function liftTrain(w: Writer, index: number): void {
  const train = w.train(index);
  const items = train.path.splice(0);
  for (const item of items) freeItem(w, index, item);
  freeOverlap(w, index);
  for (const zone of w.world.reversing) {
    if (w.state.elements[zone]!.holder === index) w.element(zone).holder = -1;
  }
  clearDeadline(w.state, 'approach', index);
  train.blind = [];
  train.proving = [];
  train.activity = { kind: 'absent' };
  train.confirmed = false;
  train.node = w.world.graphs[index]!.absent;
  train.nodes = [train.node];
  w.state.dispatching.proven = false;
  forgetFindings(w);
  forgetWait(w, index);
  w.changes.lineUp = true;
}

/** Puts a lifted train into one free block, its head somewhere in it. What stood there unidentified is this train. */
export function placeTrain(w: Writer, index: number, heading: Heading): void {
  const train = w.train(index);
  const { layout } = w.world;
  train.path = pathInBlock(layout, heading);
  train.authorised = 0;
  const [block] = train.path;
  w.element(block!.element).holder = index;
  for (const { section } of layout.blockSteps[heading]!.pieces) {
    if (section < 0) continue;
    w.section(section).claim = index;
    w.section(section).unidentified = null;
  }
  const { length } = w.world.stock.trains[index]!;
  train.tail = Math.min(0, block!.end - length);
  train.edge = Math.min(length, block!.end);
  setLimits(w, index);
  placeHead(w, index, Math.min(train.edge, train.mark), train.limit);
  train.activity = { kind: 'standing' };
  train.node = nodeIn(w, index, heading);
  train.nodes = [train.node];
  showSignals(w, index);
}

/** In a line-up, which train it is does not tell how far one has come that may have run on: that is still to be asked. */
function mayHaveRunOn({ world, state }: Writer, train: number): boolean {
  const { adrift, mustSee } = state.trains[train]!;
  if (state.session.phase.kind !== 'line-up' || !adrift) return false;
  if (mustSee) return true;
  return leftOpen(world, state, train, occupiedOnPath(world, state, train)) !== null;
}

/** Where a train turned out to stand, and how that is known. */
export interface FoundPlace {
  readonly train: number;
  /** Where it was found; null: where it is believed. */
  readonly heading: Heading | null;
  readonly certainty: 'inferred' | 'declared';
  readonly evidence: string;
}

/**
 * Trains turn out to stand at each other's places: those that do not stand where they were believed are
 * moved there. One that was stopped for the doubt still waits for a person to let it go.
 */
export function exchangePlaces(w: Writer, found: readonly FoundPlace[]): void {
  const activities = found.map(({ train }) => w.state.trains[train]!.activity);
  for (const { train, heading } of found) if (heading !== null) liftTrain(w, train);
  for (const { train, heading } of found) if (heading !== null) placeTrain(w, train, heading);
  found.forEach(({ train, certainty, evidence }, at) => {
    if (certainty === 'inferred' && mayHaveRunOn(w, train)) return;
    confirmPlace(w, train, certainty, evidence);
    if (activities[at]!.kind === 'halted') w.train(train).activity = activities[at]!;
  });
}

import { blockOf, type ElementIndex } from '../layout/layout.js';
import type { Writer } from '../session/writer.js';
import { isApproachLocked } from './approach-locked.js';
import { gapAhead } from './call-on.js';
import { stepOf } from './held-path.js';
import { mayEndAt } from './overlap.js';
import { showSignals } from './signals.js';
import { flankProven } from './flank-protection.js';
import { inPosition, provenFor } from './turnout-proof.js';

/**
 * Extends a train's authority over all that is reserved ahead of it and proven, block by block. A train that was stopped for
 * a fault gets none until a person lets it go on, and nobody what was given back.
 */
export function extendAuthority(w: Writer, index: number): void {
  const train = w.train(index);
  if (train.activity.kind === 'halted' || isApproachLocked(w.state, index)) return;
  let reached = train.authorised;
  for (let at = train.authorised + 1; at < train.path.length; at++) {
    const item = train.path[at]!;
    if (!provenFor(w, item)) break;
    if (item.heading < 0) continue;
    if (!flankProven(w, index, w.world.layout.routes[item.route]!)) break;
    if (!mayEndAt(w, index, at)) break;
    reached = at;
  }
  if (reached === train.authorised) return;
  train.authorised = reached;
  setLimits(w, index);
  showSignals(w, index);
  if (train.activity.kind === 'standing' || train.activity.kind === 'moving') {
    w.follow({ kind: 'control', train: index });
  }
}

/** Mark and limit from the last block the train has authority over. */
export function setLimits(w: Writer, index: number): void {
  const train = w.train(index);
  const last = train.path[train.authorised]!;
  const block = w.world.layout.elements[blockOf(last.heading)]!;
  train.mark = last.end - block.stopMarks[last.heading & 1]!;
  train.limit = last.end - gapAhead(last, w.world.foulingAhead[last.heading]!);
}

/** A drive on the way a train has authority over, not yet behind its tail, that is not proven as it needs it; or null. */
export function unprovenDrive(w: Writer, index: number): ElementIndex | null {
  const { path, authorised, tail } = w.state.trains[index]!;
  for (const item of path.slice(0, authorised + 1)) {
    const { element, leg, gaps } = stepOf(w.world.layout, item);
    const { position } = leg;
    if (item.end > tail && position !== null && !inPosition(w, element, position)) return element;
    const gap = gaps.find(
      (each) => item.start > tail && !inPosition(w, each.element, each.polarity),
    );
    if (gap !== undefined) return gap.element;
  }
  return null;
}

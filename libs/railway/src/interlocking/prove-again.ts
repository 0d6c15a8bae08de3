import type { ElementIndex } from '../layout/layout.js';
import { furthestHead } from '../movement/train-motion.js';
import type { ElementState } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { isForWork } from './for-work.js';
import { stepOf } from './held-path.js';
import { command } from './turnout-proof.js';

/**
 * After a restart no drive is proven. Those that somebody relies on are proven again during the line-up: with feedback by
 * what they say themselves; ahead of a train whose place is confirmed, on clear track, by commanding them anew. One
 * without feedback under a train cannot have been moved and is presumed to lie as it was last commanded.
 */
export function proveHeldDrives(w: Writer): void {
  w.state.trains.forEach(({ confirmed, path }, index) => {
    if (!confirmed) return;
    const head = furthestHead(w.world.models[index]!, w.state.trains[index]!, w.now);
    for (const item of path) {
      const { gaps, leg } = stepOf(w.world.layout, item);
      const isAhead = item.start >= head;
      if (leg.position !== null) proveAgain(w, item.element, isAhead);
      for (const gap of gaps) proveAgain(w, gap.element, isAhead);
    }
  });
  w.state.elements.forEach((element, index) => {
    if (element.holder < 0 && isReliedOnBeside(element)) proveAgain(w, index, true);
  });
}

function proveAgain(w: Writer, index: ElementIndex, mayMove: boolean): void {
  const { proof, position } = w.state.elements[index]!;
  const { drive, sections } = w.world.layout.elements[index]!;
  if (proof !== 'none' || position === null || drive === null) return;
  if (isForWork(w.state, index)) return;
  const isClear = sections.every((section) => w.state.sections[section]!.belief === 'clear');
  if (mayMove && isClear) {
    w.element(index).tries = 0;
    command(w, index);
  } else if (!drive.feedback) w.element(index).proof = 'presumed';
}

/** A drive that is being proven though a train relies on it already; null: none. */
export function driveBeingProven(w: Writer): ElementIndex | null {
  const found = w.state.elements.findIndex((element, index) => {
    return element.proof === 'moving' && (isReliedOnBeside(element) || isUnderAuthority(w, index));
  });
  return found < 0 ? null : found;
}

/** Whether a way needs its position without leading over it: as flank protection or overlap. */
const isReliedOnBeside = ({ flankFor, overlapFor }: ElementState): boolean =>
  flankFor.length > 0 || overlapFor >= 0;

function isUnderAuthority(w: Writer, element: ElementIndex): boolean {
  const train = w.state.trains[w.state.elements[element]!.holder];
  if (train === undefined) return false;
  return train.path
    .slice(0, train.authorised + 1)
    .some(
      (item) =>
        item.element === element ||
        stepOf(w.world.layout, item).gaps.some((gap) => gap.element === element),
    );
}

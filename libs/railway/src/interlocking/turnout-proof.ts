import { clearAlarm, raiseAlarm } from '../session/alarms.js';
import { isForWork } from './for-work.js';
import { pathEnd, stepOf } from './held-path.js';
import { leftPosition } from './hand-thrown.js';
import { clearDeadline, setDeadline } from '../session/deadlines.js';
import { stands } from '../movement/standing.js';
import { furthestHead } from '../movement/train-motion.js';
import type { ElementState, PathItem } from '../session/state.js';
import type { Writer } from '../session/writer.js';

/** Time beyond the longest throw before a drive counts as not proven, and before a failed one is tried again. */
const PROOF_MARGIN = 300;
const RETRY_AFTER = 5000;
const TRIES = 2;

/**
 * Puts a drive into a position. With feedback nothing is sent when it is proven there already; without, it is
 * commanded anew for every route and presumed there after its longest throw.
 */
export function setDrive(w: Writer, index: number, position: string): void {
  const element = w.element(index);
  const { feedback } = w.world.layout.elements[index]!.drive!;
  if (feedback && element.position === position && element.proof === 'proven') return;
  if (element.position !== position) w.state.counts.throws++;
  element.position = position;
  element.tries = 0;
  command(w, index);
}

/** Sends a drive's position anew and awaits its proof. */
export function command(w: Writer, index: number): void {
  const element = w.element(index);
  const { throwTime } = w.world.layout.elements[index]!.drive!;
  element.proof = 'moving';
  element.tries++;
  w.send({ kind: 'set-drive', element: index, position: element.position! });
  setDeadline(w.state, 'drive', index, w.now + throwTime + PROOF_MARGIN);
}

/** Whether a drive is proven, or presumed for want of feedback, in a position. */
export function inPosition(w: Writer, index: number, position: string): boolean {
  const element = w.state.elements[index]!;
  return (
    element.position === position && (element.proof === 'proven' || element.proof === 'presumed')
  );
}

/** Whether the element of a way and the gaps at its entry are proven (or presumed) as the train needs them. */
export function provenFor(w: Writer, item: PathItem): boolean {
  const { leg, gaps } = stepOf(w.world.layout, item);
  return (
    (leg.position === null || inPosition(w, item.element, leg.position)) &&
    gaps.every((gap) => inPosition(w, gap.element, gap.polarity))
  );
}

/** The longest throw time has passed: presumed without feedback, else tried again, then failed. */
export function driveOverdue(w: Writer, index: number): void {
  const { feedback } = w.world.layout.elements[index]!.drive!;
  if (isForWork(w.state, index)) {
    w.element(index).proof = 'none';
  } else if (!feedback) {
    w.element(index).proof = 'presumed';
    proofChanged(w, index);
  } else if (w.state.elements[index]!.tries < TRIES) {
    command(w, index);
  } else {
    fail(w, index);
  }
}

function fail(w: Writer, index: number): void {
  const { id } = w.world.layout.elements[index]!;
  const element = w.element(index);
  element.proof = 'failed';
  raiseAlarm(
    w,
    `drive:${id}`,
    `${id} is not proven ${element.position}.`,
    'See whether something blocks it. It is tried again by itself every few seconds.',
  );
  setDeadline(w.state, 'retry', index, w.now + RETRY_AFTER);
  w.state.trains.forEach((_, train) => w.follow({ kind: 'give-back', train }));
  w.state.dispatching.due = true;
}

/**
 * A failed drive is commanded again, unless someone stands on it, may run onto it or works on it. One locked as overlap is, once
 * its train stands: only into the position in which it is locked.
 */
export function retryDrive(w: Writer, index: number): void {
  const element = w.state.elements[index]!;
  if (element.proof !== 'failed') return;
  const { kind, sections } = w.world.layout.elements[index]!;
  // A train wholly inside a reversing section bridges none of its gaps; one that does holds it.
  const free =
    kind === 'polarity' ||
    sections.every((section) => w.state.sections[section]!.belief === 'clear');
  const closed = element.possession !== null;
  const locked = element.holder >= 0 || mayOverrun(w, element.overlapFor);
  if (!free || closed || locked || w.state.session.phase.kind === 'powerless') {
    setDeadline(w.state, 'retry', index, w.now + RETRY_AFTER);
    return;
  }
  w.element(index).tries = TRIES - 1;
  command(w, index);
}

/** Whether a train, if there is one, may still come beyond the end of its way. */
function mayOverrun(w: Writer, index: number): boolean {
  const train = w.state.trains[index];
  if (train === undefined) return false;
  const head = furthestHead(w.world.models[index]!, train, w.now);
  return !stands(w, index) || head > pathEnd(train.path);
}

/** Feedback of a drive. One that leaves its position under a train stops that train. */
export function driveMessage(w: Writer, index: number, position: string | null): void {
  const element = w.element(index);
  if (element.proof === 'moving' || element.proof === 'failed' || isWanted(element)) {
    if (position === null || position !== element.position) return;
  } else if (position === element.position && element.proof !== 'none') {
    return;
  } else {
    return leftPosition(w, index, position, w.now + RETRY_AFTER);
  }
  element.proof = 'proven';
  clearDeadline(w.state, 'drive', index);
  clearDeadline(w.state, 'retry', index);
  clearAlarm(w, `drive:${w.world.layout.elements[index]!.id}`);
  proofChanged(w, index);
}

/** Whether its proof was lost with a restart while somebody relies on its position. */
const isWanted = ({ proof, position, holder, flankFor, overlapFor }: ElementState): boolean =>
  proof === 'none' && position !== null && (holder >= 0 || flankFor.length > 0 || overlapFor >= 0);

/** Authority may now reach further: for the holder, and for whoever waits for flank protection. */
function proofChanged(w: Writer, index: number): void {
  const { holder, overlapFor } = w.state.elements[index]!;
  w.state.dispatching.due = true;
  if (overlapFor >= 0) w.follow({ kind: 'authority', train: overlapFor });
  if (holder >= 0) return w.follow({ kind: 'authority', train: holder });
  w.state.trains.forEach((train, at) => {
    if (train.path.length - 1 > train.authorised) w.follow({ kind: 'authority', train: at });
  });
}

import { refusal, type Refusal } from '../session/refusal.js';
import type { EngineState } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { isApproachLocked } from './approach-locked.js';
import { isForWork } from './for-work.js';
import { giveBackAhead } from './give-back.js';

/** Longest reason for closing a track, in characters. */
const LONGEST_REASON = 60;

/**
 * A person closes a block, turnout or crossing for work, and says for what. From now on nobody gets a way over it. A train
 * that stands on it or has authority over it keeps it until its tail is clear; what is only reserved is given back. Then
 * work may begin: nothing commands a drive there any more. It stays closed through power cuts until a person reopens it.
 */
export function closeTrack(w: Writer, index: number, reason: string): Refusal | null {
  const element = w.world.layout.elements[index]!;
  const why = reason.trim();
  if (element.kind === 'buffer-stop' || element.kind === 'polarity') {
    return refusal('not-closable', `${element.id} is no track; close the block or turnout by it.`);
  }
  if (why === '' || why.length > LONGEST_REASON) {
    return refusal('no-reason', `Say in 1 to ${LONGEST_REASON} characters what it is closed for.`);
  }
  const { possession, holder } = w.state.elements[index]!;
  if (possession !== null) {
    return refusal('closed', `${element.id} is closed already: ${possession}.`);
  }
  w.element(index).possession = why;
  if (holder >= 0 && !isApproachLocked(w.state, holder)) {
    if (!hasAuthorityOver(w.state, holder, index)) giveBackAhead(w, holder);
  }
  if (!isForWork(w.state, index)) {
    w.log(`${element.id} is to be closed: ${why}. Work may begin when it is clear of trains.`);
  }
  w.state.dispatching.due = true;
  return null;
}

/** Whatever was done to a drive meanwhile, its position is not known: it is proven anew for the next way over it. */
export function reopenTrack(w: Writer, index: number): Refusal | null {
  const { id, drive } = w.world.layout.elements[index]!;
  const { possession, proof, holder } = w.state.elements[index]!;
  if (possession === null) return refusal('not-closed', `${id} is not closed.`);
  const element = w.element(index);
  const worked = isForWork(w.state, index);
  element.possession = null;
  if (drive !== null && worked && holder < 0 && proof !== 'failed') {
    element.position = null;
    element.proof = 'none';
  }
  w.state.dispatching.due = true;
  return null;
}

/** Whether a train stands on the element or may run over it, rather than only having it reserved. */
function hasAuthorityOver({ trains }: EngineState, train: number, element: number): boolean {
  const { path, authorised } = trains[train]!;
  return path.findIndex((item) => item.element === element) <= authorised;
}

import { setDeadline, clearDeadline } from '../session/deadlines.js';
import { isWatching } from '../session/phase.js';
import type { Writer } from '../session/writer.js';
import { readingEnds } from './evidence.js';
import { headSeen } from './head-edge.js';
import { weighReadings } from './reports.js';
import { proveTail } from './tail-proof.js';
import { strangerGone, strangerSeen } from './strangers.js';

/**
 * A detector's message. Occupied acts at once; free only after the hold-off, for dirty track makes contact
 * come and go.
 */
export function sectionMessage(w: Writer, index: number, occupied: boolean): void {
  const before = w.state.sections[index]!;
  if (before.raw === occupied) return;
  const section = w.section(index);
  section.raw = occupied;
  w.changes.lineUp = true;
  if (!occupied) {
    const { holdOff } = w.world.layout.sections[index]!.detector;
    setDeadline(w.state, 'hold-off', index, w.now + holdOff);
    return;
  }
  clearDeadline(w.state, 'hold-off', index);
  if (section.belief === 'occupied') return;
  section.belief = 'occupied';
  section.since = w.now;
  if (!isWatching(w.state)) return movedInLineUp(w, section.claim);
  if (section.claim >= 0) headSeen(w, section.claim, index);
  else strangerSeen(w, index);
  if (section.decoders.length > 0 || section.crowded) weighReadings(w, index);
}

/** A train that moves after its place was confirmed, before anything may: its place is asked anew. */
function movedInLineUp(w: Writer, index: number): void {
  if (w.state.trains[index]?.confirmed !== true) return;
  const train = w.train(index);
  train.confirmed = false;
  train.adrift = true;
  train.identity.certainty = 'expected';
  train.identity.evidence = 'It moved after its place was confirmed.';
}

/** The section has read free for its hold-off. */
export function sectionFree(w: Writer, index: number): void {
  const { district } = w.world.layout.sections[index]!;
  if (w.state.districts[district]!.power !== 'on') return;
  const section = w.section(index);
  if (section.raw !== false) return;
  const before = section.belief;
  section.belief = 'clear';
  section.since = w.now;
  section.decoders = [];
  section.crowded = false;
  readingEnds(w, index);
  w.changes.lineUp = true;
  w.state.dispatching.due = true;
  if (!isWatching(w.state)) {
    if (before === 'occupied') movedInLineUp(w, section.claim);
    return;
  }
  if (section.unidentified !== null) strangerGone(w, index);
  if (section.claim >= 0) proveTail(w, section.claim);
}

/** Power or bus lost: nothing is known of the section any more, and it counts as occupied. */
export function sectionLost(w: Writer, index: number): void {
  const section = w.section(index);
  section.raw = null;
  section.belief = 'unknown';
  section.decoders = [];
  readingEnds(w, index);
  section.since = w.now;
  clearDeadline(w.state, 'hold-off', index);
  w.changes.lineUp = true;
}

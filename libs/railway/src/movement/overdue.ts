import { piecesOf } from '../interlocking/held-path.js';
import { leadingUnseen } from '../occupancy/extent.js';
import { clearDeadline, setDeadline } from '../session/deadlines.js';
import type { Writer } from '../session/writer.js';
import { um } from '../units.js';
import { certainlyReached } from './reckoning.js';

/** Grace beyond the slowest run and the message's longest delay, ms, and beyond the boundary, mm. */
const GRACE = 1500;
const BEYOND = 40;

/** Arranges the moment by which even the slowest train must have been seen in the next section. */
export function watchForEdge(w: Writer, index: number): void {
  clearDeadline(w.state, 'overdue', index);
  const next = nextBoundary(w, index);
  if (next === undefined) return;
  const { reckoning } = w.state.trains[index]!;
  const by = certainlyReached(w.world.models[index]!, reckoning, um((next.at + BEYOND) * 1000));
  if (by === null) return;
  const { worstDelay } = w.world.layout.sections[next.section]!.detector;
  setDeadline(w.state, 'overdue', index, Math.max(by, w.now) + worstDelay.occupied + GRACE);
}

/** The next section that will see the head: where the head then is, mm. */
export function nextBoundary(
  w: Writer,
  index: number,
): { section: number; at: number } | undefined {
  const train = w.state.trains[index]!;
  const lead = leadingUnseen(w.world.stock.trains[index]!, train);
  const piece = piecesOf(w.world.layout, train.path.slice(0, train.authorised + 1)).find(
    ({ section, start }, at, all) =>
      section >= 0 &&
      start + lead > train.edge &&
      all[at - 1]?.section !== section &&
      !isBlind(w, section),
  );
  return piece && { section: piece.section, at: piece.start + lead };
}

/** Whether a detector sticks: a person said that its section is clear, and it has said occupied ever since. */
function isBlind(w: Writer, section: number): boolean {
  const { clearByHand, raw } = w.state.sections[section]!;
  return clearByHand !== null && raw === true;
}

/** The edge did not come: presumed stalled anywhere since the last one; it keeps all its track. */
export function edgeOverdue(w: Writer, index: number): void {
  const next = nextBoundary(w, index);
  if (next === undefined || w.state.trains[index]!.activity.kind !== 'moving') return;
  const { id } = w.world.layout.sections[next.section]!;
  w.follow({
    kind: 'halt',
    train: index,
    why: `it was not seen in section ${id} when it should have been`,
    mend: 'See whether it has stalled; when it is on the track again, let it go on.',
  });
}

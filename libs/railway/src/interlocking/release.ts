import { clearDeadline, hasDeadline, setDeadline } from '../session/deadlines.js';
import { clearAlarm, raiseAlarm } from '../session/alarms.js';
import type { PathItem } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { readingEnds } from '../occupancy/evidence.js';
import { seenOnlyBehind } from '../occupancy/seen-only-behind.js';
import { noteClosed } from './for-work.js';
import { releaseFlank } from './flank-protection.js';
import { show } from './signals.js';
import { stepOf } from './held-path.js';

/** Frees, from the rear, every element that the proven tail has passed and whose sections are free. */
export function releaseBehind(w: Writer, index: number): void {
  const train = w.train(index);
  while (train.path.length > 1 && train.authorised > 0) {
    const rear = train.path[0]!;
    if (rear.releaseAt > train.tail || occupiedSection(w, rear, index)) break;
    train.path.shift();
    train.authorised--;
    freeItem(w, index, rear);
  }
  freePassedGaps(w, index);
}

/** Whether a section keeps the element locked; then a look at it later is arranged. */
function occupiedSection(w: Writer, item: PathItem, index: number): boolean {
  const section = stepOf(w.world.layout, item).pieces.find(
    (piece) => piece.section >= 0 && w.state.sections[piece.section]!.belief !== 'clear',
  )?.section;
  if (section === undefined) return false;
  if (!spansNext(w, section, index) && !hasDeadline(w.state, 'left-behind', section)) {
    const { worstDelay, holdOff } = w.world.layout.sections[section]!.detector;
    setDeadline(w.state, 'left-behind', section, w.now + worstDelay.free + holdOff + 2000);
  }
  return true;
}

/** Whether the section also sees elements of the path beyond the rear one. */
function spansNext(w: Writer, section: number, index: number): boolean {
  const { path } = w.state.trains[index]!;
  return path
    .slice(1)
    .some((item) => stepOf(w.world.layout, item).pieces.some((p) => p.section === section));
}

/** The time for a section to read free behind a proven tail is over. */
export function leftBehind(w: Writer, section: number): void {
  const { belief, claim } = w.state.sections[section]!;
  if (belief !== 'occupied' || claim < 0) return;
  const { id } = w.world.layout.sections[section]!;
  const { label } = w.world.stock.trains[claim]!.file;
  raiseAlarm(
    w,
    `behind:${id}`,
    `Section ${id} stays occupied though ${label} has passed it whole.`,
    'Look for a lost vehicle or a detector that sticks. It stays closed until it reads free or you say that it is clear.',
  );
  if (w.state.trains[claim]!.activity.kind !== 'standing' || seenOnlyBehind(w, claim) === null)
    return;
  w.follow({
    kind: 'halt',
    train: claim,
    why: `section ${id} behind it is occupied, and all that it should stand on reads free`,
    mend: `Look whether ${label} stands in section ${id}, and say where it stands.`,
  });
}

/** Gives up one element of a path that no longer contains it. */
export function freeItem(w: Writer, index: number, item: PathItem): void {
  const train = w.state.trains[index]!;
  const { layout } = w.world;
  w.element(item.element).holder = -1;
  noteClosed(w, item.element);
  releaseFlank(w, index, item);
  for (const { section } of stepOf(layout, item).pieces) {
    if (section < 0 || stillOnPath(w, index, section)) continue;
    w.section(section).claim = -1;
    for (const list of [train.blind, train.proving]) {
      const at = list.indexOf(section);
      if (at >= 0) list.splice(at, 1);
    }
    clearDeadline(w.state, 'left-behind', section);
    clearAlarm(w, `behind:${layout.sections[section]!.id}`);
    readingEnds(w, section);
  }
  if (item.heading >= 0) show(w, item.heading, 'stop');
  w.state.dispatching.due = true;
}

function stillOnPath(w: Writer, index: number, section: number): boolean {
  return w.state.trains[index]!.path.some((item) =>
    stepOf(w.world.layout, item).pieces.some((piece) => piece.section === section),
  );
}

/** Frees reversing sections whose gaps the whole train has crossed. */
export function freePassedGaps(w: Writer, index: number): void {
  const { layout } = w.world;
  const train = w.state.trains[index]!;
  for (const zone of w.world.reversing) {
    if (w.state.elements[zone]!.holder !== index) continue;
    const needed = train.path.some(
      (item) =>
        item.start > train.tail && stepOf(layout, item).gaps.some((gap) => gap.element === zone),
    );
    if (needed) continue;
    w.element(zone).holder = -1;
    w.state.dispatching.due = true;
  }
}

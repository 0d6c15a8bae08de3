import { raiseAlarm } from '../session/alarms.js';
import { setDeadline } from '../session/deadlines.js';
import type { Writer } from '../session/writer.js';
import { isForWork } from './for-work.js';
import { stepOf } from './held-path.js';

/**
 * A drive says that it has left its proven position without a command: thrown by hand (`position` says where to), or its
 * feedback failed (null). Nobody's drive is believed where it says it is. Under a train's way, or where it protects one, it
 * is unproven from now on: trains with authority over it are stopped and their signals show stop, their ways stay
 * held; those that have it only reserved, on their way or as overlap, give that back. One whose reserved way it was only to
 * protect keeps that and goes without this protection, as wherever a protecting turnout does not work
 * (`flank-protection.ts`). It is tried again at `retryAt`, physical ms.
 */
export function leftPosition(
  w: Writer,
  index: number,
  position: string | null,
  retryAt: number,
): void {
  const element = w.element(index);
  const { holder, flankFor, overlapFor } = element;
  const { id } = w.world.layout.elements[index]!;
  const free = holder < 0 && overlapFor < 0 && flankFor.length === 0;
  if (free || isForWork(w.state, index)) {
    if (position !== null && element.position !== null && position !== element.position) {
      w.log(`${id} was thrown by hand to ${position}; no train relies on it.`);
    }
    element.position = position;
    element.proof = position === null ? 'none' : 'proven';
    return;
  }
  const wanted = element.position!;
  element.proof = 'failed';
  setDeadline(w.state, 'retry', index, retryAt);
  const what = position === null ? 'lost its proof' : `was thrown by hand to ${position}`;
  const beside = overlapFor < 0 ? flankFor : [...new Set([...flankFor, overlapFor])];
  const concerned = holder >= 0 ? [holder] : beside;
  const labels = concerned.map((train) => w.world.stock.trains[train]!.file.label).join(', ');
  const where = holder >= 0 ? `under the way of ${labels}` : `while it protects ${labels}`;
  raiseAlarm(
    w,
    `drive:${id}`,
    `${id} ${what} ${where}.`,
    `Set it ${wanted} again, then let the train go on. Close a turnout before anybody works on it.`,
  );
  for (const train of concerned) {
    if (!reliesOn(w, train, index)) w.follow({ kind: 'give-back', train });
    else {
      w.follow({
        kind: 'halt',
        train,
        why: `${id} ${holder >= 0 ? 'on its way' : 'beside its way'} ${what}`,
        mend: `Set ${id} ${wanted} again, then let the train go on.`,
      });
    }
  }
  w.state.dispatching.due = true;
}

/** Whether a train has authority over a drive, a gap that it feeds, or a turnout that it protects. */
function reliesOn({ world: { layout }, state }: Writer, train: number, drive: number): boolean {
  const { path, authorised, overlap } = state.trains[train]!;
  if (overlap.includes(drive) && authorised === path.length - 1) return true;
  return path.slice(0, authorised + 1).some((item) => {
    if (item.element === drive) return true;
    if (stepOf(layout, item).gaps.some((gap) => gap.element === drive)) return true;
    const flank = item.route < 0 ? [] : layout.routes[item.route]!.flank;
    return flank.some(
      ({ turnout, by }) =>
        turnout === item.element && by.kind === 'turnout' && by.element === drive,
    );
  });
}

import { lastHeading } from '../interlocking/held-path.js';
import { opposite } from '../layout/layout.js';
import { waysOn } from '../layout/track-beyond.js';
import type { Seen } from '../session/writer.js';

/** Whether a section sees track directly beyond either end of a train's held path. */
export function adjoins(w: Seen, index: number, section: number): boolean {
  const { path } = w.state.trains[index]!;
  const rear = path[0];
  if (rear === undefined) return false;
  const behind = rear.heading >= 0 ? [opposite(rear.heading)] : [];
  return [lastHeading(path), ...behind].some((heading) => nextSections(w, heading).has(section));
}

/** A section with something unidentified in it directly beyond the block in which a train's held path ends, if `section` is in that. */
export function strangerBeyond(w: Seen, index: number, section: number): number | null {
  const { path } = w.state.trains[index]!;
  const last = path.at(-1);
  if (last === undefined || !w.world.layout.sections[section]!.elements.includes(last.element))
    return null;
  for (const next of nextSections(w, lastHeading(path))) {
    const { unidentified, claim } = w.state.sections[next]!;
    if (unidentified !== null && claim < 0) return next;
  }
  return null;
}

/** The first sections that may follow beyond a heading's end ahead, whichever way trains may run there. */
function nextSections(w: Seen, heading: number): Set<number> {
  const found = new Set<number>();
  for (const { steps } of waysOn(w.world.layout, heading)) {
    const seen = steps.flatMap(({ pieces }) => pieces).find(({ section }) => section >= 0);
    if (seen !== undefined) found.add(seen.section);
  }
  return found;
}

import { lastHeading } from '../interlocking/held-path.js';
import { opposite } from '../layout/layout.js';
import { waysOn } from '../layout/track-beyond.js';
import { furthestHead } from '../movement/train-motion.js';
import type { Seen } from '../session/writer.js';

/** Whether a section sees track directly beyond either end of a train's held path. */
export function adjoins(w: Seen, index: number, section: number): boolean {
  const { path } = w.state.trains[index]!;
  const rear = path[0];
  if (rear === undefined) return false;
  const behind = rear.heading >= 0 ? [opposite(rear.heading)] : [];
  return [lastHeading(path), ...behind].some((heading) => nextSections(w, heading).has(section));
}

/**
 * Whether a train's head may have come into a section beside its way, over a turnout that lies otherwise than anybody knows:
 * it may have left the block before the turnout and was not seen in the one after. On every way from there the first
 * section counts that is not the train's own.
 */
export function mayHaveStrayedInto(w: Seen, index: number, section: number): boolean {
  const { layout, models } = w.world;
  const train = w.state.trains[index]!;
  const blocks = train.path.filter(({ heading }) => heading >= 0);
  const furthest = furthestHead(models[index]!, train, w.state.now);
  const from = blocks.find(
    ({ end }, at) => end < furthest && train.edge < (blocks[at + 1]?.start ?? -Infinity),
  );
  if (from === undefined) return false;
  return waysOn(layout, from.heading).some(({ steps }) => {
    const pieces = steps.flatMap((step) => step.pieces).filter((it) => it.section >= 0);
    const first = pieces.find((it) => w.state.sections[it.section]!.claim !== index);
    return first?.section === section;
  });
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

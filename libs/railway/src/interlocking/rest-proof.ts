import type { Train } from '../stock/train.js';

/** A stretch seen by one detector (or none, −1) at its place along a train's path, in mm. */
export interface Stretch {
  readonly section: number;
  readonly start: number;
  readonly end: number;
}

/** A train's length and the undetected lengths at the end that leads and at the one that trails, in mm. */
export interface Consist {
  readonly length: number;
  readonly unseenAhead: number;
  readonly unseenBehind: number;
}

export const consistOf = (train: Train, frontLeads: boolean): Consist => ({
  length: train.length,
  unseenAhead: frontLeads ? train.unseenFront : train.unseenRear,
  unseenBehind: frontLeads ? train.unseenRear : train.unseenFront,
});

/**
 * How far short of its stop mark a train may come to rest and still count as being there, in mm. Runs of trains at the ends
 * of their spread, 5 % of the speed and 15 % of the braking, with messages as late as is allowed, end up to 183 mm short
 * when the last edge lies 900 mm before the mark. One that stopped short of an edge before its mark draws up to it.
 */
export const REST_TOLERANCE = 190;

/**
 * How far forward the tail of a resting train is certainly proven, in mm along its path; −Infinity if not at all. `head`
 * is the stop mark it stands at. It foretells what live evidence will have proven by then, and so has the same two parts:
 *
 * - the furthest boundary at which a detector became occupied under the head, minus the train's length;
 * - sequence: the furthest boundary behind the train up to which every detected section has gone free while the train
 *   is seen beyond it, minus what may trail unseen.
 *
 * The train may stand up to {@link REST_TOLERANCE} short, but not short of an edge that lies before its mark: to that it draws
 * up. So what is proven here is proven then.
 */
export function provenTailAtRest(path: readonly Stretch[], head: number, consist: Consist): number {
  return Math.max(
    lastEdge(path, head, consist) - consist.length,
    freeBoundary(path, head, consist) - consist.unseenBehind,
  );
}

/** Whether a detector of the section may see the resting train. */
export function restsOn(
  path: readonly Stretch[],
  section: number,
  head: number,
  { length }: Consist,
): boolean {
  const tail = head - REST_TOLERANCE - length;
  return path.some((it) => it.section === section && it.end > tail && it.start < head);
}

/** The furthest head position at which a section was newly occupied. */
function lastEdge(path: readonly Stretch[], head: number, { unseenAhead }: Consist): number {
  const seen = new Set<number>();
  let edge = -Infinity;
  for (const { section, start } of path) {
    if (start + unseenAhead > head) break;
    if (section < 0 || seen.has(section)) continue;
    seen.add(section);
    edge = start + unseenAhead;
  }
  return edge;
}

/** The furthest boundary behind which all sections are free by sequence. */
function freeBoundary(path: readonly Stretch[], head: number, consist: Consist): number {
  const sure = head - REST_TOLERANCE;
  const tail = sure - consist.length;
  const isSeen = path.some(
    ({ section, start, end }) =>
      section >= 0 &&
      start < sure - consist.unseenAhead &&
      end > head - consist.length + consist.unseenBehind,
  );
  let boundary = -Infinity;
  if (!isSeen) return boundary;
  for (const { section, end } of path) {
    if (end > tail) break;
    if (section < 0) continue;
    if (restsOn(path, section, head, consist)) break;
    boundary = end;
  }
  return boundary;
}

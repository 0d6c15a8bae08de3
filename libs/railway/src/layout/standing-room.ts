import { mm } from '../units.js';
import type { Millimetres } from '../units.js';
import { blockOf, headingOf, opposite } from './layout.js';
import type { ElementIndex, Heading, Layout } from './layout.js';

/**
 * How long a train may be that stops in a track with its front at the stop mark of `heading`: its tail may reach
 * back through the track's slots behind, up to the fouling point at the track's other end. `blocks` are the
 * track's blocks in either order; that of `heading` is one of them.
 */
export function standingRoom(
  layout: Layout,
  blocks: readonly ElementIndex[],
  heading: Heading,
): Millimetres {
  const front = layout.elements[blockOf(heading)];
  if (front === undefined) return mm(0);
  let room = front.length - front.stopMarks[heading & 1 ? 1 : 0];
  let rearmost = heading;
  let rest = blocks.filter((block) => block !== blockOf(heading));
  for (;;) {
    const behind = slotBehind(layout, rest, rearmost);
    if (behind === null) break;
    room += layout.elements[blockOf(behind)]?.length ?? 0;
    rearmost = behind;
    rest = rest.filter((block) => block !== blockOf(behind));
  }
  const fouled = layout.elements[blockOf(rearmost)]?.fouling[opposite(rearmost) & 1 ? 1 : 0] ?? 0;
  return mm(Math.max(0, room - fouled));
}

/** The slot directly behind, in the same direction of travel; null at the track's end. */
function slotBehind(
  layout: Layout,
  slots: readonly ElementIndex[],
  heading: Heading,
): Heading | null {
  for (const slot of slots) {
    for (const behind of [headingOf(slot, 'b'), headingOf(slot, 'a')]) {
      if (leadsDirectly(layout, behind, heading)) return behind;
      if (leadsDirectly(layout, opposite(heading), opposite(behind))) return behind;
    }
  }
  return null;
}

const leadsDirectly = (layout: Layout, from: Heading, to: Heading): boolean =>
  (layout.routesFrom[from] ?? []).some((index) => {
    const route = layout.routes[index];
    return route?.to === to && route.steps.length === 1;
  });

/** The headings in which trains may run in a track. */
export const permittedIn = (layout: Layout, blocks: readonly ElementIndex[]): Heading[] =>
  blocks
    .flatMap((block) => [headingOf(block, 'b'), headingOf(block, 'a')])
    .filter((it) => layout.elements[blockOf(it)]?.permitted[it & 1 ? 1 : 0] ?? false);

/** Whether a train of this length can stop somewhere in the track, in any direction trains may run there. */
export const fitsTrack = (
  layout: Layout,
  blocks: readonly ElementIndex[],
  length: Millimetres,
): boolean =>
  permittedIn(layout, blocks).some((heading) => standingRoom(layout, blocks, heading) >= length);

/** The longest train that can stop somewhere in the track, in any direction trains may run there. */
export const longestIn = (layout: Layout, blocks: readonly ElementIndex[]): Millimetres =>
  mm(
    Math.max(
      0,
      ...permittedIn(layout, blocks).map((heading) => standingRoom(layout, blocks, heading)),
    ),
  );

/**
 * The slots of a track in which a train stands whose front is at the stop mark of `heading`: no more than its length needs,
 * the foremost first. Null where the track does not hold it.
 */
export function slotsTaken(
  layout: Layout,
  blocks: readonly ElementIndex[],
  heading: Heading,
  length: number,
): ElementIndex[] | null {
  const taken = [blockOf(heading)];
  for (let rearmost: Heading | null = heading; rearmost !== null;) {
    if (standingRoom(layout, taken, heading) >= length) return taken;
    const rest = blocks.filter((block) => !taken.includes(block));
    rearmost = slotBehind(layout, rest, rearmost);
    if (rearmost !== null) taken.push(blockOf(rearmost));
  }
  return null;
}

/** The sets of slots in a track in which a train of this length can stand, none of which contains another. */
export function standingPlaces(
  layout: Layout,
  blocks: readonly ElementIndex[],
  length: number,
): ElementIndex[][] {
  const places: ElementIndex[][] = [];
  const found = permittedIn(layout, blocks)
    .map((heading) => slotsTaken(layout, blocks, heading, length) ?? [])
    .filter((slots) => slots.length > 0)
    .sort((a, b) => a.length - b.length);
  for (const slots of found)
    if (!places.some((place) => place.every((block) => slots.includes(block)))) places.push(slots);
  return places;
}

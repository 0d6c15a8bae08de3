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

/** Whether a train of this length can stop somewhere in the track, in any direction trains may run there. */
export const fitsTrack = (
  layout: Layout,
  blocks: readonly ElementIndex[],
  length: Millimetres,
): boolean =>
  blocks.some((block) =>
    (['b', 'a'] as const).some((end) => {
      const heading = headingOf(block, end);
      const permitted = layout.elements[block]?.permitted[heading & 1 ? 1 : 0] ?? false;
      return permitted && standingRoom(layout, blocks, heading) >= length;
    }),
  );

import {
  blockOf,
  slotText,
  standingRoom,
  type Heading,
  type Layout,
  type Route,
  type Train,
} from '@blockbell/railway';

/**
 * Room left over by a train, mm, so that it is proven clear of what lies behind though it stops a little before its mark;
 * without a source, several times what trains stop short by in simulation.
 */
const SPARE = 150;

/**
 * The train that tries a route: the longest of those given that can stand at both its ends with room to spare, or else the
 * shortest that just fits; a sentence where none does.
 */
export function trainFor(
  layout: Layout,
  trains: readonly Train[],
  route: Route,
): Train | { readonly why: string } {
  const ends = [endOf(layout, route.from), endOf(layout, route.to)] as const;
  const [least, most] = ends[0].room <= ends[1].room ? ends : [ends[1], ends[0]];
  const roomy = trains.filter(({ length }) => length + SPARE <= least.room);
  if (roomy.length > 0) return roomy.reduce((a, b) => (b.length > a.length ? b : a));
  const shortest = trains.reduce((a, b) => (b.length < a.length ? b : a));
  if (shortest.length <= least.room) return shortest;
  const both = shortest.length > most.room ? ` nor in ${most.place}` : '';
  return {
    why:
      `${shortest.file.label}, ${Math.round(shortest.length)} mm long, ` +
      `has no room in ${least.place}${both}: a train may be ${Math.floor(least.room)} mm long there.`,
  };
}

const endOf = (layout: Layout, heading: Heading) => ({
  place: slotText(layout, blockOf(heading)),
  room: standingRoom(layout, [blockOf(heading)], heading),
});

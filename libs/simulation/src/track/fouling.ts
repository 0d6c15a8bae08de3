import type { Element, ElementIndex } from '@blockbell/railway/track';
import type { Claim, WayGraph } from './ways.js';
import { oppositeWay, portKey } from './ways.js';

/** A stretch of a way from its entry on in which a vehicle fouls another element. */
export interface FoulingStretch {
  readonly claim: Claim;
  readonly to: number;
}

/** The ports of an element in the order its legs name them. */
export function portsOf(element: Element): readonly string[] {
  return [...new Set(element.legs.flatMap((leg) => [leg.from, leg.to]))];
}

/** By way: the stretches behind its entry from which a vehicle still fouls an element just left or soon reached. */
export function findFouling(graph: WayGraph): readonly (readonly FoulingStretch[])[] {
  const found: FoulingStretch[][] = graph.ways.map(() => []);
  const seen = new Set<string>();
  for (const way of graph.ways) {
    const key = portKey(way.element.index, way.exit);
    if (way.foulingBeyondExit === 0 || seen.has(key)) continue;
    seen.add(key);
    const slot = way.element.legs.length + portsOf(way.element).indexOf(way.exit);
    const claim = { element: way.element.index, slot };
    spread(graph, found, claim, way.element.index, way.exit, way.foulingBeyondExit);
  }
  return found;
}

/** Marks the first `reach` mm beyond a port; past plain track and facing turnouts it goes on. */
function spread(
  graph: WayGraph,
  found: FoulingStretch[][],
  claim: Claim,
  element: ElementIndex,
  port: string,
  reach: number,
): void {
  const mate = graph.mates.get(portKey(element, port));
  if (mate === undefined || mate.element === claim.element) return;
  const entered = graph.from.get(portKey(mate.element, mate.port)) ?? [];
  for (const index of entered) {
    const way = graph.ways[index]!;
    found[index]!.push({ claim, to: Math.min(reach, way.length) });
    const trailing = way.position !== null && entered.length === 1;
    if (reach > way.length && !trailing) {
      spread(graph, found, claim, mate.element, way.exit, reach - way.length);
    }
  }
}

/** Which slots of an element exclude one another, by slot and slot. */
export function slotConflicts(element: Element): readonly (readonly boolean[])[] {
  const { legs } = element;
  const slots = [
    ...legs.map((leg) => ({ ends: [leg.from, leg.to], beyond: false })),
    ...portsOf(element).map((port) => ({ ends: [port], beyond: true })),
  ];
  return slots.map((left) =>
    slots.map((right) => {
      if (left === right) return false;
      const shared = left.ends.some((end) => right.ends.includes(end));
      if (!left.beyond && !right.beyond) return true;
      if (!left.beyond || !right.beyond) return !shared;
      return sideOf(left.ends[0]!) === sideOf(right.ends[0]!);
    }),
  );
}

/** Ports on one side lie beside each other; a stem lies alone, and so do a crossing's `a` and `b` from `c` and `d`. */
const sideOf = (port: string): number => (port === 'stem' || port === 'a' || port === 'b' ? 0 : 1);

/** Fouling stretches of a way seen from its exit belong to its opposite. */
export const foulingAtBothEnds = (
  fouling: readonly (readonly FoulingStretch[])[],
  way: number,
  length: number,
): readonly { readonly claim: Claim; readonly from: number; readonly to: number }[] => [
  ...(fouling[way] ?? []).map(({ claim, to }) => ({ claim, from: 0, to })),
  ...(fouling[oppositeWay(way)] ?? []).map(({ claim, to }) => ({
    claim,
    from: length - to,
    to: length,
  })),
];

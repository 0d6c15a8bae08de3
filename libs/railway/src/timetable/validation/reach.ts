import { opposite } from '../../layout/layout.js';
import type { ElementIndex, Heading, Layout, Step } from '../../layout/layout.js';

/** A rail gap the train has begun to cross and may still bridge. */
interface BridgedGap {
  readonly section: ElementIndex;
  readonly polarity: string;
  /** How far the front is beyond it, in mm. */
  readonly beyond: number;
}

interface Standing {
  readonly heading: Heading;
  readonly bridged: readonly BridgedGap[];
}

export interface Reached {
  /** Where the train can get, by one route or more, without turning round on the way. */
  readonly headings: ReadonlySet<Heading>;
  /** Reversing sections too short for the train that turned it away somewhere, with their length between gaps. */
  readonly tooShort: ReadonlyMap<ElementIndex, number>;
}

/**
 * Everywhere a train of this length gets from where it stands. A train can't bridge two gaps of a reversing
 * section that want different polarities, so it must fit between them. Length 0 asks for the track alone.
 */
export function reachFrom(layout: Layout, starts: Iterable<Heading>, length: number): Reached {
  const headings = new Set<Heading>();
  const tooShort = new Map<ElementIndex, number>();
  const seen = new Set<string>();
  const waiting: Standing[] = [...starts].map((heading) => ({ heading, bridged: [] }));
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    const key = `${at.heading} ${at.bridged.map((gap) => `${gap.section}${gap.polarity}${gap.beyond}`).join()}`;
    if (seen.has(key)) continue;
    seen.add(key);
    for (const index of layout.routesFrom[at.heading] ?? []) {
      const route = layout.routes[index];
      const bridged = route === undefined ? null : along(route.steps, at.bridged, length, tooShort);
      if (route === undefined || bridged === null) continue;
      headings.add(route.to);
      waiting.push({ heading: route.to, bridged });
    }
  }
  return { headings, tooShort };
}

/** The gaps bridged at the end of these steps; null when the train doesn't fit between two of them. */
function along(
  steps: readonly Step[],
  before: readonly BridgedGap[],
  length: number,
  tooShort: Map<ElementIndex, number>,
): readonly BridgedGap[] | null {
  let bridged = before;
  for (const step of steps) {
    for (const gap of step.gaps) {
      const clash = bridged.find(
        ({ section, polarity }) => section === gap.element && polarity !== gap.polarity,
      );
      if (clash !== undefined) {
        tooShort.set(gap.element, Math.max(clash.beyond, tooShort.get(gap.element) ?? 0));
        return null;
      }
      bridged = [...bridged, { section: gap.element, polarity: gap.polarity, beyond: 0 }];
    }
    bridged = bridged
      .map((gap) => ({ ...gap, beyond: gap.beyond + step.leg.length }))
      .filter((gap) => gap.beyond < length);
  }
  return bridged;
}

/** The headings with their opposites: where a train that may turn round can set out. */
export const eitherWay = (headings: Iterable<Heading>): ReadonlySet<Heading> =>
  new Set([...headings].flatMap((heading) => [heading, opposite(heading)]));

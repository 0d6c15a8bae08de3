import { opposite, type Heading, type Layout, type Step } from './layout.js';

/**
 * The sections that see track within `reach` mm beyond a heading's end ahead, along every way from block to block however
 * its turnouts lie and whichever way trains may run there: what a train that ran on over that end may stand in. Track
 * that leads to no other block is not looked at.
 */
export function sectionsBeyond(layout: Layout, heading: Heading, reach: number): Set<number> {
  const found = new Set<number>();
  const seen = new Map<Heading, number>();
  const walk = (from: Heading, left: number): void => {
    if (from < 0 || left <= 0 || (seen.get(from) ?? 0) >= left) return;
    seen.set(from, left);
    for (const { steps, to } of waysOn(layout, from)) {
      let rest = left;
      for (const { pieces } of steps) {
        for (const { section, length } of pieces) {
          if (rest > 0 && section >= 0) found.add(section);
          rest -= length;
        }
      }
      walk(to, rest);
    }
  };
  walk(heading, reach);
  return found;
}

/** Whether some track directly beyond a heading's end is seen by no detector. */
export const beginsUnseen = (layout: Layout, heading: Heading): boolean =>
  waysOn(layout, heading).some(({ steps }) => steps[0]!.pieces[0]!.section < 0);

/** The ways beyond a heading's end through the whole next block: routes from there, and those that trains run only the other way. */
export function waysOn(
  layout: Layout,
  heading: Heading,
): { readonly steps: readonly Step[]; readonly to: Heading }[] {
  const ahead = (layout.routesFrom[heading] ?? []).map((route) => layout.routes[route]!);
  const against = (layout.routesInto[opposite(heading)] ?? [])
    .map((route) => layout.routes[route]!)
    // Whether a way may be run depends on its two blocks alone.
    .filter(({ from }) => !ahead.some(({ to }) => to === opposite(from)))
    .map(({ from, steps }) => {
      const between = steps.slice(0, -1).map(backwards).reverse();
      return { steps: [...between, layout.blockSteps[opposite(from)]!], to: opposite(from) };
    });
  return [...ahead, ...against];
}

const backwards = (step: Step): Step => ({ ...step, pieces: [...step.pieces].reverse() });

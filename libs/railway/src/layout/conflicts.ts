import type { ElementIndex, RouteIndex, Step } from './layout.js';

/** Everything a route holds: the elements it passes and the polarity of the reversing sections whose gaps it crosses. */
export function elementsHeld(steps: readonly Step[]): ReadonlySet<ElementIndex> {
  const held = new Set<ElementIndex>();
  for (const step of steps) {
    held.add(step.element);
    for (const gap of step.gaps) held.add(gap.element);
  }
  return held;
}

/** What a route alone may hold: its elements, and as negative numbers the sections that see any of them. */
function heldAlone(steps: readonly Step[]): ReadonlySet<number> {
  const held = new Set<number>();
  for (const { element, gaps, pieces } of steps) {
    held.add(element);
    for (const gap of gaps) held.add(gap.element);
    for (const { section } of pieces) if (section >= 0) held.add(-1 - section);
  }
  return held;
}

/**
 * For every route, the routes that share an element or a detection section with it, in rising order, itself left out: a
 * detector that sees two routes cannot tell whose train it sees.
 */
export function findConflicts(
  routes: readonly { readonly steps: readonly Step[] }[],
): readonly (readonly RouteIndex[])[] {
  const held = routes.map((route) => heldAlone(route.steps));
  const users = new Map<ElementIndex, RouteIndex[]>();
  held.forEach((elements, route) => {
    for (const element of elements) {
      const routesOver = users.get(element);
      if (routesOver === undefined) users.set(element, [route]);
      else routesOver.push(route);
    }
  });
  return held.map((elements, route) => {
    const sharing = new Set<RouteIndex>();
    for (const element of elements) {
      for (const other of users.get(element) ?? []) if (other !== route) sharing.add(other);
    }
    return [...sharing].sort((left, right) => left - right);
  });
}

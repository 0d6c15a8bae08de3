import { blockOf, endAhead, type Layout, type Route } from '../layout/layout.js';
import { signatureOf, type OwnRoute } from './own-routes.js';
import type { ProofCheck } from './report.js';

/** A route of the compiled layout with the same one found by walking. */
export interface ProvenRoute {
  readonly route: Route;
  readonly own: OwnRoute;
}

/** The compiled routes are all ways there are and no others, and hold what they pass in the position they need. */
export function checkRoutes(
  layout: Layout,
  walked: readonly OwnRoute[],
): { readonly check: ProofCheck; readonly pairs: readonly ProvenRoute[] } {
  const faults: string[] = [];
  const bySignature = new Map(walked.map((own) => [own.signature, own]));
  const pairs = layout.routes.flatMap((route): ProvenRoute[] => {
    const own = bySignature.get(signatureOfRoute(layout, route));
    if (own === undefined) {
      faults.push(`Route ${route.id} leads where no track leads.`);
      return [];
    }
    bySignature.delete(own.signature);
    faults.push(...differences(layout, route, own));
    return [{ route, own }];
  });
  for (const { from, leaves, steps } of bySignature.values()) {
    const to = steps.at(-1)!;
    faults.push(
      `The way from ${from}.${leaves} to ${to.element}.${to.from} over ` +
        `${steps.length - 1} elements is no route.`,
    );
  }
  const claim = 'Every way from block to block is a route, and holds all it passes as it needs it.';
  const check = { name: 'routes', claim, looked: walked.length, faults, notes: [] } as const;
  return { check, pairs };
}

function signatureOfRoute({ elements }: Layout, { from, steps }: Route): string {
  return signatureOf(
    elements[blockOf(from)]!.id,
    endAhead(from),
    steps.map(({ element, leg }) => ({
      element: elements[element]!.id,
      from: leg.from,
      to: leg.to,
    })),
  );
}

/** What the compiled route holds otherwise than the walk found it must. */
function differences(layout: Layout, route: Route, own: OwnRoute): string[] {
  const wrong: string[] = [];
  const held = new Set<string>();
  const polarities = new Map<string, Set<string>>();
  route.steps.forEach(({ element, leg, gaps, pieces }, at) => {
    const { id } = layout.elements[element]!;
    held.add(id);
    for (const { section } of pieces) {
      if (section >= 0) held.add(`section:${layout.sections[section]!.id}`);
    }
    for (const gap of gaps) {
      const zone = layout.elements[gap.element]!.id;
      held.add(zone);
      polarities.set(zone, (polarities.get(zone) ?? new Set()).add(gap.polarity));
    }
    const needed = own.steps[at]!.position;
    if (leg.position !== needed) {
      wrong.push(`Route ${route.id} sets ${id} ${leg.position}; its way needs ${needed}.`);
    }
  });
  for (const thing of own.holds) {
    if (!held.has(thing)) wrong.push(`Route ${route.id} does not hold ${words(thing)}.`);
  }
  for (const thing of held) {
    if (!own.holds.has(thing)) wrong.push(`Route ${route.id} holds ${words(thing)} off its way.`);
  }
  for (const [zone, wanted] of own.polarities) {
    const set = [...(polarities.get(zone) ?? [])].sort().join(' and ');
    const needed = [...wanted].sort().join(' and ');
    if (set !== needed) {
      wrong.push(`Route ${route.id} sets ${zone} ${set || 'not at all'}; it needs ${needed}.`);
    }
  }
  return wrong;
}

const words = (thing: string): string => thing.replace('section:', 'section ');

import type { Layout } from '../layout/layout.js';
import { TELL_EVERY, type ProofPart } from './report.js';
import type { ProvenRoute } from './routes-check.js';
import type { Trial } from './trial.js';

/**
 * No turnout and no polarity is commanded under a held route. First: taking a route commands nothing but what it passes and
 * what protects it. So a route can only touch another's drives where it needs them for flank or overlap, or shares
 * them, which the exclusion forbids; every such pair is tried.
 */
export function* checkDrives(
  layout: Layout,
  pairs: readonly ProvenRoute[],
  excluded: readonly ReadonlyMap<number, string>[],
  trial: Trial,
): ProofPart {
  const faults: string[] = [];
  let looked = 0;
  const byDrive = new Map<string, number[]>();
  pairs.forEach(({ own }, at) => {
    for (const thing of own.holds) byDrive.set(thing, [...(byDrive.get(thing) ?? []), at]);
  });
  for (let at = 0; at < pairs.length; at++) {
    if (at % TELL_EVERY === 0) yield { check: 'drives', done: at, of: pairs.length };
    const { route, own } = pairs[at]!;
    trial.stand(route.from);
    const needed = [
      ...route.flank.flatMap(({ by }) => (by.kind === 'turnout' ? [by.element] : [])),
      ...layout.overlaps[route.to]!.flatMap(({ element, gaps }) => [
        element,
        ...gaps.map((gap) => gap.element),
      ]),
    ];
    const protecting = needed.map((element) => layout.elements[element]!.id as string);
    for (const drive of trial.hold(route)) {
      looked++;
      const { id } = layout.elements[drive]!;
      if (!own.holds.has(id) && !protecting.includes(id)) {
        faults.push(`Setting ${route.id} commands ${id}, which it neither passes nor needs.`);
      }
    }
    const touching = new Set(protecting.flatMap((id) => byDrive.get(id) ?? []));
    for (const other of touching) {
      if (other === at || excluded[at]!.has(other)) continue;
      const held = pairs[other]!;
      looked++;
      trial.stand(held.route.from);
      trial.hold(held.route);
      trial.bring(route.from);
      if (trial.refuses(route)) continue;
      for (const drive of trial.take(route)) {
        const { id } = layout.elements[drive]!;
        if (!held.own.holds.has(id)) continue;
        faults.push(`Setting ${route.id} commands ${id} under the held route ${held.route.id}.`);
      }
    }
  }
  return {
    name: 'drives',
    claim: 'No turnout and no polarity is commanded while a route is held over it.',
    looked,
    faults,
    notes: [],
  };
}

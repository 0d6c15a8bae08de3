import { blockOf, type Layout } from '../layout/layout.js';
import { TELL_EVERY, type ProofPart } from './report.js';
import type { ProvenRoute } from './routes-check.js';
import type { Trial } from './trial.js';

/** All that a train before a route and on it is at: the block it stands in and everything the route holds. */
const reachOf = ({ own }: ProvenRoute): string[] => [own.from, ...own.holds];

/** By thing: the routes whose train may be at it. */
export function usersOf(pairs: readonly ProvenRoute[]): ReadonlyMap<string, readonly number[]> {
  const users = new Map<string, number[]>();
  pairs.forEach((pair, at) => {
    for (const thing of reachOf(pair)) {
      const known = users.get(thing);
      if (known === undefined) users.set(thing, [at]);
      else known.push(at);
    }
  });
  return users;
}

/** For every route, the routes it must never be held together with, and the first thing both would be at. */
export function mustExclude(
  pairs: readonly ProvenRoute[],
  users: ReadonlyMap<string, readonly number[]>,
): readonly ReadonlyMap<number, string>[] {
  return pairs.map((pair, at) => {
    const others = new Map<number, string>();
    for (const thing of reachOf(pair)) {
      for (const other of users.get(thing) ?? []) {
        if (other !== at && !others.has(other)) others.set(other, thing);
      }
    }
    return others;
  });
}

/**
 * Two routes that share an element, a reversing section or a detection section, and two that lead to where the other's train
 * stands (opposing moves), exclude one another: the table says so of what both hold, and the rule refuses the second
 * while the first is held, in either order. No route is granted over the overlap of another.
 */
export function* checkExclusion(
  layout: Layout,
  pairs: readonly ProvenRoute[],
  users: ReadonlyMap<string, readonly number[]>,
  excluded: readonly ReadonlyMap<number, string>[],
  trial: Trial,
): ProofPart {
  const faults: string[] = [];
  let looked = 0;
  for (let at = 0; at < pairs.length; at++) {
    if (at % TELL_EVERY === 0) yield { check: 'exclusion', done: at, of: pairs.length };
    const { route, own } = pairs[at]!;
    const inTable = new Set(route.conflicts);
    const opposed = [...excluded[at]!].filter(([other]) => own.holds.has(pairs[other]!.own.from));
    trial.stand(route.from);
    for (const [other] of opposed) {
      const { route: second } = pairs[other]!;
      if (blockOf(second.from) === blockOf(route.from)) continue;
      trial.bring(second.from);
      if (!trial.refusesFirst(route)) {
        faults.push(`${route.id} is granted though a train stands in ${pairs[other]!.own.from}.`);
      }
      trial.send(second.from);
    }
    trial.hold(route);
    for (const [other, thing] of excluded[at]!) {
      const second = pairs[other]!;
      looked++;
      const shared = [...own.holds].some((each) => second.own.holds.has(each));
      if (shared && !inTable.delete(second.route.index)) {
        faults.push(
          `${route.id} and ${second.route.id} share ${name(thing)}, but no conflict is listed.`,
        );
      }
      const needsTwo = own.from === second.own.from || own.holds.has(second.own.from);
      if (!needsTwo && !trial.refuses(second.route)) {
        faults.push(
          `${second.route.id} is granted while ${route.id} is held, though both are at ${name(thing)}.`,
        );
      }
    }
    for (const { element } of layout.overlaps[route.to]!) {
      const { id } = layout.elements[element]!;
      for (const other of users.get(id) ?? []) {
        const second = pairs[other]!;
        if (other === at || second.own.from === own.from || second.own.from === id) continue;
        looked++;
        if (own.holds.has(second.own.from) || trial.refuses(second.route)) continue;
        faults.push(`${second.route.id} is granted over ${id}, which is overlap of ${route.id}.`);
      }
    }
    for (const spare of inTable) {
      faults.push(
        `${route.id} and ${layout.routes[spare]?.id ?? spare} share nothing, but a conflict is listed.`,
      );
    }
  }
  return {
    name: 'exclusion',
    claim: 'Routes that share anything, or oppose one another, are never held at the same time.',
    looked,
    faults,
    notes: [],
  };
}

const name = (thing: string): string => thing.replace('section:', 'section ');

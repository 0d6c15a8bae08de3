import type { Layout, Route } from '../layout/layout.js';
import { waysFrom, partsOf, type OwnTrack } from './own-track.js';
import { TELL_EVERY, type ProofPart } from './report.js';
import type { ProvenRoute } from './routes-check.js';

/** Where stray vehicles would come from beyond a port. */
interface Source {
  readonly kind: 'block' | 'open' | 'buffer-stop';
  readonly id: string;
}

/**
 * For every side from which a stray vehicle could run into a route the layout lists what protects it, or says why nothing can:
 * with the protecting turnouts turned away as listed, a walk outwards from every port the route doesn't use comes to ends
 * of blocks alone, where trains stop at signals, and to buffer stops, and each of them is listed. That a listed turnout
 * really is turned away in a session depends on what goes on there (`interlocking/flank-protection.ts`); this proves the
 * list.
 */
export function* checkFlank(
  layout: Layout,
  track: OwnTrack,
  pairs: readonly ProvenRoute[],
): ProofPart {
  const faults: string[] = [];
  const notes = new Map<string, number>();
  let looked = 0;
  for (let at = 0; at < pairs.length; at++) {
    if (at % TELL_EVERY === 0) yield { check: 'flank', done: at, of: pairs.length };
    const { route, own } = pairs[at]!;
    const set = new Map<string, string>();
    for (const { element, position } of own.steps) {
      if (position !== null) set.set(element, position);
    }
    for (const { by } of route.flank) {
      if (by.kind !== 'turnout') continue;
      const { id } = layout.elements[by.element]!;
      const before = set.get(id);
      if (before !== undefined && before !== by.position) {
        faults.push(`${route.id} needs ${id} ${before} and for its flank ${by.position}.`);
      }
      set.set(id, before ?? by.position);
    }
    for (const note of overruled(layout, route)) notes.set(note, (notes.get(note) ?? 0) + 1);
    for (const { element } of own.steps.slice(0, -1)) {
      const { ports } = track.elements.get(element)!;
      const used = own.steps.find((step) => step.element === element)!;
      for (const port of ports) {
        if (port === used.from || port === used.to) continue;
        looked++;
        const listed = route.flank
          .filter(({ turnout }) => layout.elements[turnout]!.id === element)
          .map(({ by }) => by);
        for (const source of sourcesBeyond(track, `${element}.${port}`, set)) {
          const isListed = listed.some(
            (by) =>
              (by.kind === 'signal' &&
                source.kind === 'block' &&
                layout.elements[by.block]!.id === source.id) ||
              (by.kind === 'buffer-stop' && source.kind === 'buffer-stop'),
          );
          const why = listed.find((by) => by.kind === 'none')?.why;
          if (isListed) continue;
          if (why !== undefined) {
            const note = `${element} beyond ${port} has no protection: ${why}`;
            notes.set(note, (notes.get(note) ?? 0) + 1);
          } else {
            faults.push(
              `${route.id}: a stray vehicle from ${source.id} comes to ${element}.${port}; ` +
                'nothing protects and nothing says why.',
            );
          }
        }
      }
    }
  }
  return {
    name: 'flank',
    claim:
      'What protects every side of a route against stray vehicles is listed, or it is said why nothing does. ' +
      'A protecting turnout is turned away wherever it is free to turn when the way is set.',
    looked,
    faults,
    notes: [...notes].map(([note, routes]) => `${note} (${routes} routes).`),
  };
}

/** Protecting turnouts that the route's own overlap needs otherwise: that comes first. */
const overruled = (layout: Layout, { to, flank }: Route): string[] =>
  flank.flatMap(({ turnout, by }) => {
    if (by.kind !== 'turnout') return [];
    const step = layout.overlaps[to]!.find(({ element }) => element === by.element);
    if (step === undefined || step.leg.position === by.position) return [];
    const [protecting, side] = [by.element, turnout].map((it) => layout.elements[it]!.id);
    return [`${protecting} does not protect ${side}: it lies ${step.leg.position} for the overlap`];
  });

/** Walks outwards from a port; elements in `set` lie as they are set, all others may lie in any position. */
function sourcesBeyond(track: OwnTrack, port: string, set: ReadonlyMap<string, string>): Source[] {
  const found: Source[] = [];
  const seen = new Set<string>();
  const walk = (from: string): void => {
    const met = track.joined.get(from);
    if (met === undefined) {
      found.push({ kind: 'open', id: from });
      return;
    }
    if (seen.has(met)) return;
    seen.add(met);
    const entered = partsOf(met);
    const element = track.elements.get(entered.element)!;
    if (element.kind === 'block') found.push({ kind: 'block', id: element.id });
    else if (element.kind === 'buffer-stop') found.push({ kind: 'buffer-stop', id: element.id });
    else {
      const lies = set.get(element.id);
      for (const { to, position } of waysFrom(element, entered.port)) {
        if (lies === undefined || position === null || position === lies)
          walk(`${element.id}.${to}`);
      }
    }
  };
  walk(port);
  return found;
}

import { partsOf, waysFrom, type OwnElement, type OwnTrack } from './own-track.js';

/** A way from the end of a block through the whole next one, found by walking the track. */
export interface OwnRoute {
  /** The block it starts from and the end trains leave it at. */
  readonly from: string;
  readonly leaves: string;
  readonly steps: readonly OwnStep[];
  /** All it holds: elements, reversing sections, and sections as `section:id`. */
  readonly holds: ReadonlySet<string>;
  /** By reversing section: the polarities it needs; more than one cannot be had. */
  readonly polarities: ReadonlyMap<string, ReadonlySet<string>>;
  /** Equal for the same way through the same ports, whoever describes it. */
  readonly signature: string;
}

export interface OwnStep {
  readonly element: string;
  readonly from: string;
  readonly to: string;
  readonly position: string | null;
}

/** Every route of the layout, by brute force. */
export function walkRoutes(track: OwnTrack): OwnRoute[] {
  const found: OwnRoute[] = [];
  for (const block of track.elements.values()) {
    if (block.kind !== 'block') continue;
    for (const end of ['a', 'b'] as const) {
      if (block.leaves[end]) walkFrom(track, block, end, found);
    }
  }
  return found;
}

function walkFrom(track: OwnTrack, block: OwnElement, end: 'a' | 'b', found: OwnRoute[]): void {
  const walk = (port: string, steps: readonly OwnStep[]): void => {
    const met = track.joined.get(port);
    const entered = met === undefined ? undefined : partsOf(met);
    const element = entered && track.elements.get(entered.element);
    if (entered === undefined || element === undefined) return;
    if (steps.some((step) => step.element === element.id) || element.id === block.id) return;
    for (const { to, position } of waysFrom(element, entered.port)) {
      const step = { element: element.id, from: entered.port, to, position };
      if (element.kind !== 'block') walk(`${element.id}.${to}`, [...steps, step]);
      else if (element.leaves[to === 'a' ? 'a' : 'b']) {
        found.push(routeOf(track, block.id, end, [...steps, step]));
      }
    }
  };
  walk(`${block.id}.${end}`, []);
}

function routeOf(
  track: OwnTrack,
  from: string,
  leaves: string,
  steps: readonly OwnStep[],
): OwnRoute {
  const holds = new Set<string>();
  const polarities = new Map<string, Set<string>>();
  for (const { element, from: entry } of steps) {
    holds.add(element);
    for (const section of track.elements.get(element)!.sections) holds.add(`section:${section}`);
    for (const { zone, polarity } of track.gaps.get(`${element}.${entry}`) ?? []) {
      holds.add(zone);
      polarities.set(zone, (polarities.get(zone) ?? new Set()).add(polarity));
    }
  }
  return { from, leaves, steps, holds, polarities, signature: signatureOf(from, leaves, steps) };
}

export const signatureOf = (
  from: string,
  leaves: string,
  steps: readonly Pick<OwnStep, 'element' | 'from' | 'to'>[],
): string =>
  [`${from}.${leaves}`, ...steps.map((step) => `${step.element}:${step.from}-${step.to}`)].join(
    ' ',
  );

import { legsFrom, PORTS } from './element-legs.js';
import { canonicalJson } from './hash.js';
import type { Element, ElementIndex, Flank, Leg, Step } from './layout.js';
import { portKey } from './track-graph.js';
import type { TrackGraph } from './track-graph.js';

type Protection = Flank['by'];

/**
 * What keeps stray vehicles out of a way. At each turnout, slip and crossing passed, the walk goes from every
 * port the way doesn't use outwards, until something protects: a turnout that can be set away, the end of a
 * block (its signal; trains stop before it), or a buffer stop. Where the track outside branches, every branch
 * gives an entry of its own.
 */
export function findFlank(
  steps: readonly Step[],
  elements: readonly Element[],
  graph: TrackGraph,
): readonly Flank[] {
  const own = new Map(steps.map((step) => [step.element, step.leg]));
  const found = steps.flatMap((step): Flank[] => {
    const element = elements[step.element];
    if (element === undefined || element.kind === 'block' || element.kind === 'polarity') return [];
    const protections = PORTS[element.kind]
      .filter((port) => port !== step.leg.from && port !== step.leg.to)
      .flatMap((port) => protectionBeyond(element.index, port, [], elements, graph, own));
    return distinct(protections).map((by) => ({ turnout: step.element, by }));
  });
  return withoutContradiction(found, elements);
}

/** One turnout can't turn away from two sides at once: it protects the first element of the way that needs it. */
function withoutContradiction(
  found: readonly Flank[],
  elements: readonly Element[],
): readonly Flank[] {
  const positions = new Map<ElementIndex, string>();
  return found.map((flank): Flank => {
    const { by } = flank;
    if (by.kind !== 'turnout') return flank;
    const before = positions.get(by.element) ?? by.position;
    positions.set(by.element, before);
    if (before === by.position) return flank;
    const why = `${elements[by.element]?.id} is needed ${before} to protect another element of the way`;
    return { turnout: flank.turnout, by: { kind: 'none', why } };
  });
}

/** Two branches may end at the same protection; it is named once. */
function distinct(protections: readonly Protection[]): readonly Protection[] {
  if (protections.length < 2) return protections;
  const byContent = new Map(protections.map((by) => [canonicalJson(by), by]));
  return [...byContent.values()];
}

/** Walks outwards from a port and gathers what protects each branch. */
function protectionBeyond(
  from: ElementIndex,
  port: string,
  walked: readonly string[],
  elements: readonly Element[],
  graph: TrackGraph,
  own: ReadonlyMap<ElementIndex, Leg>,
): readonly Protection[] {
  const met = graph.mate(from, port);
  const element = met === null ? undefined : elements[met.element];
  if (met === null || element === undefined) {
    return [{ kind: 'none', why: `nothing is joined at ${elements[from]?.id}.${port}` }];
  }
  if (element.kind === 'block') return [{ kind: 'signal', block: element.index }];
  if (element.kind === 'buffer-stop') return [{ kind: 'buffer-stop', element: element.index }];

  const used = own.get(element.index);
  // The way itself passes this element, so it is held and set for the way; only its leg could lead here.
  if (used !== undefined) {
    return used.position === null
      ? []
      : [{ kind: 'turnout', element: element.index, position: used.position }];
  }
  const away = positionAway(element, met.port);
  if (away !== null) return [{ kind: 'turnout', element: element.index, position: away }];

  const key = portKey(met.element, met.port);
  if (walked.includes(key)) {
    return [{ kind: 'none', why: `the track beyond ${element.id} comes back to itself` }];
  }
  return legsFrom(element.legs, met.port).flatMap((leg) =>
    protectionBeyond(element.index, leg.to, [...walked, key], elements, graph, own),
  );
}

/** The position in which no way through the element ends at this port; null when there is none. */
function positionAway(element: Element, port: string): string | null {
  const towards = new Set(legsFrom(element.legs, port).map((leg) => leg.position));
  // Straight (or crossing) first: the position least likely to send a stray vehicle over a curve.
  const inOrder = [...(element.drive?.positions ?? [])].sort(
    (left, right) => rank(left) - rank(right),
  );
  return inOrder.find((position) => !towards.has(position)) ?? null;
}

const rank = (position: string): number =>
  position === 'straight' || position === 'cross' ? 0 : 1;

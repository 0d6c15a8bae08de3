import { legsFrom } from '../layout/element-legs.js';
import type { Layout, Piece, Route, Step } from '../layout/layout.js';
import { provenTailAtRest, restsOn, type Consist, type Stretch } from './rest-proof.js';

/**
 * The elements a train holds, from its rear to its front, as steps in its direction of travel. Gaps that its whole
 * length has crossed are taken out of the steps.
 */
export type Trail = readonly Step[];

/** A trail's detected and undetected stretches, in mm from its rear. */
export function stretchesOf(trail: Trail): Stretch[] {
  const stretches: Stretch[] = [];
  let start = 0;
  for (const { pieces } of trail) {
    for (const { section, length } of pieces) {
      stretches.push({ section, start, end: start + length });
      start += length;
    }
  }
  return stretches;
}

export const lengthOf = (trail: Trail): number =>
  trail.reduce((sum, { leg }) => sum + leg.length, 0);

/**
 * What a train still holds once it rests with its head at `head` (mm from the trail's rear, at a stop mark): from the
 * rear, every element frees whose release point (its end, and as far beyond as a vehicle fouls it) the tail is proven
 * past and whose sections are free. The last element, on which the head stands, is never freed.
 */
export function settle(trail: Trail, head: number, consist: Consist): Trail {
  const stretches = stretchesOf(trail);
  const tail = provenTailAtRest(stretches, head, consist);
  const isFree = ({ section }: Piece): boolean =>
    section < 0 || !restsOn(stretches, section, head, consist);
  let start = 0;
  let first = 0;
  for (const step of trail.slice(0, -1)) {
    const end = start + step.leg.length;
    if (end + step.leg.foulingBeyondTo > tail || !step.pieces.every(isFree)) break;
    start = end;
    first += 1;
  }
  return trail.slice(first).map((step, i) => {
    const crossed = i === 0 || start <= tail;
    start += step.leg.length;
    return crossed && step.gaps.length > 0 ? { ...step, gaps: [] } : step;
  });
}

/** The same held elements as seen after the train has changed its direction. */
export function reversedTrail(layout: Layout, trail: Trail): Trail {
  return trail.map((step, i) => reversedStep(layout, step, trail[i + 1]?.gaps ?? [])).reverse();
}

function reversedStep(layout: Layout, step: Step, gaps: Step['gaps']): Step {
  const { element, leg } = step;
  const back = legsFrom(layout.elements[element]!.legs, leg.to).find(({ to }) => to === leg.from);
  if (back === undefined) {
    throw new Error(`element ${layout.elements[element]!.id} has no way ${leg.to} to ${leg.from}`);
  }
  return { element, leg: back, pieces: [...step.pieces].reverse(), gaps };
}

/** How many resources a layout has: see {@link heldBy}. */
export const resourceCount = ({ elements, sections, dividedTracks }: Layout): number =>
  elements.length + sections.length + dividedTracks.length;

/**
 * Everything held by a train with this trail, by number: its elements, the reversing sections whose gaps it bridges, and,
 * numbered after all elements, each section that sees more than one element: its detector cannot tell two trains
 * apart, so only one may be there; and, after all sections, each divided track into which nobody is called on.
 */
export function heldBy(layout: Layout, trail: Trail): number[] {
  const { elements, sections, dividedTracks, dividedTrackOf } = layout;
  const held = new Set<number>(trail.map(({ element }) => element));
  for (const { element, gaps, pieces } of trail) {
    const track = dividedTrackOf[element] ?? -1;
    if (track >= 0 && !dividedTracks[track]!.callOn) {
      held.add(elements.length + sections.length + track);
    }
    for (const { element } of gaps) held.add(element);
    for (const { section } of pieces) {
      if (section >= 0 && sections[section]!.elements.length > 1)
        held.add(elements.length + section);
    }
  }
  return [...held];
}

/** What a train needs to run over a route: its way, the overlap beyond it, and what it holds at rest there. */
export const neededFor = (
  layout: Layout,
  { steps, to }: Pick<Route, 'steps' | 'to'>,
  rest: readonly number[],
): number[] => [
  ...new Set([...heldBy(layout, steps), ...heldBy(layout, layout.overlaps[to]!), ...rest]),
];

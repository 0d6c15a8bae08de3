import { legsFrom } from './element-legs.js';
import { blockOf, endAhead } from './layout.js';
import type { Element, ElementIndex, Leg, Step } from './layout.js';
import type { StepMaker } from './steps.js';
import type { TrackGraph } from './track-graph.js';

/**
 * What must be free and locked beyond the end of a block before a train is let into it, by heading: the elements that the
 * length the builder asks for reaches into, straight on over turnouts. Empty where no overlap is asked for.
 */
export const findOverlaps = (
  elements: readonly Element[],
  graph: TrackGraph,
  maker: StepMaker,
): readonly (readonly Step[])[] =>
  maker.blockSteps.map((_, heading) => {
    const { file } = elements[blockOf(heading)]!;
    const end = endAhead(heading);
    const length = file?.kind === 'block' ? (file.overlap?.[end] ?? 0) : 0;
    const legs = (element: ElementIndex): readonly Leg[] => elements[element]!.legs;
    return straightOn(blockOf(heading), end, length, graph, legs).map(({ element, leg }) =>
      maker.step(elements[element]!, leg),
    );
  });

/**
 * The elements that a length reaches into beyond an end of a block, each with the leg over which a vehicle that runs too far
 * does least harm: straight or across, else the only one. Fewer where the track ends or comes back to itself.
 */
export function straightOn(
  block: ElementIndex,
  end: string,
  length: number,
  graph: TrackGraph,
  legs: (element: ElementIndex) => readonly Leg[],
): { readonly element: ElementIndex; readonly leg: Leg }[] {
  const passed: { element: ElementIndex; leg: Leg }[] = [];
  let left = length;
  let met = left > 0 ? graph.mate(block, end) : null;
  while (left > 0 && met !== null) {
    const { element, port } = met;
    const ways = legsFrom(legs(element), port);
    const leg =
      ways.find(({ position }) => position === 'straight' || position === 'cross') ?? ways[0];
    if (leg === undefined || element === block) break;
    if (passed.some((before) => before.element === element)) break;
    passed.push({ element, leg });
    left -= leg.length;
    met = graph.mate(element, leg.to);
  }
  return passed;
}

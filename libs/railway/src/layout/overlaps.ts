import { legsFrom } from './element-legs.js';
import { blockOf, endAhead, headingOf } from './layout.js';
import type { Element, Heading, Step } from './layout.js';
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
  maker.blockSteps.map((_, heading) => overlapOf(heading, elements, graph, maker));

function overlapOf(
  heading: Heading,
  elements: readonly Element[],
  graph: TrackGraph,
  maker: StepMaker,
): readonly Step[] {
  const file = elements[blockOf(heading)]!.file;
  const end = endAhead(heading);
  let left: number = file?.kind === 'block' ? (file.overlap?.[end] ?? 0) : 0;
  const steps: Step[] = [];
  let met = left > 0 ? graph.mate(blockOf(heading), end) : null;
  while (left > 0 && met !== null) {
    const element = elements[met.element]!;
    const step =
      element.kind === 'block'
        ? maker.blockSteps[headingOf(element.index, met.port === 'a' ? 'b' : 'a')]
        : straightOn(element, met.port, maker);
    if (!step || element.index === blockOf(heading)) break;
    if (steps.some((before) => before.element === step.element)) break;
    steps.push(step);
    left -= step.leg.length;
    met = graph.mate(element.index, step.leg.to);
  }
  return steps;
}

/** The leg over which a vehicle that runs too far does least harm: straight or across, else the only one. */
function straightOn(element: Element, port: string, maker: StepMaker): Step | null {
  const legs = legsFrom(element.legs, port);
  const leg =
    legs.find(({ position }) => position === 'straight' || position === 'cross') ?? legs[0];
  return leg === undefined ? null : maker.step(element, leg);
}

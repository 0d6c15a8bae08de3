import { legsFrom } from './element-legs.js';
import { headingOf } from './layout.js';
import type { Element, Leg, Piece, SectionIndex, Step } from './layout.js';
import type { GapsByPort } from './reversing.js';
import { portKey } from './track-graph.js';

/** Makes the steps of ways: an element passed over one of its legs, with its detection and the gaps at its entry. */
export interface StepMaker {
  step(element: Element, leg: Leg): Step;
  /** Every block in both directions, by heading; null for what is no block. */
  readonly blockSteps: readonly (Step | null)[];
}

export function createStepMaker(
  elements: readonly Element[],
  sectionByName: ReadonlyMap<string, SectionIndex>,
  gaps: GapsByPort,
): StepMaker {
  const sectionIndex = (id: string | null): SectionIndex | -1 =>
    id === null ? -1 : (sectionByName.get(id) ?? -1);

  const piecesOf = ({ file }: Element, leg: Leg): readonly Piece[] => {
    if (file?.kind === 'block') {
      const pieces = file.detection.map(({ section, length }) => ({
        section: sectionIndex(section),
        length,
      }));
      return leg.to === 'b' ? pieces : pieces.reverse();
    }
    const section = file === null || file.kind === 'buffer-stop' ? null : file.section;
    return [{ section: sectionIndex(section), length: leg.length }];
  };

  const step = (element: Element, leg: Leg): Step => ({
    element: element.index,
    leg,
    pieces: piecesOf(element, leg),
    gaps: gaps.get(portKey(element.index, leg.from)) ?? [],
  });

  const blockSteps: (Step | null)[] = [];
  for (const element of elements) {
    for (const entry of ['a', 'b'] as const) {
      const [leg] = element.kind === 'block' ? legsFrom(element.legs, entry) : [];
      const towards = entry === 'a' ? 'b' : 'a';
      blockSteps[headingOf(element.index, towards)] = leg === undefined ? null : step(element, leg);
    }
  }
  return { step, blockSteps };
}

import type { Diagram } from './diagram.js';
import type { LabelField } from './label-field.js';
import { lampBox } from './lamp-shapes.js';
import type { LampSpot } from './lamp-spots.js';
import { linkBoxes, placeNames } from './name-labels.js';
import type { Measure, NameLabel } from './name-labels.js';

/** Names, and what trains' labels must keep clear of while the scale stays: names, letters of broken track, and signals. */
export function labelGround(
  diagram: Diagram,
  scale: number,
  measure: Measure,
  lamps: readonly LampSpot[],
): { readonly names: readonly NameLabel[]; readonly field: LabelField } {
  const kept = linkBoxes(diagram, scale);
  const spots = lamps.map(({ at }) => at);
  const { names, field } = placeNames(diagram, scale, measure, kept, spots);
  // As small as a signal gets; those that say something take more room and are kept clear of as they come and go.
  for (const lamp of lamps) {
    const box = lampBox(lamp, 'bar', scale);
    if (box) field.block(box);
  }
  return { names, field };
}

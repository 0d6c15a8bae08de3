import type { Diagram } from './diagram.js';
import type { LabelField } from './label-field.js';
import type { LampSpot } from './lamp-spots.js';
import { linkBoxes, placeNames } from './name-labels.js';
import type { Measure, NameLabel } from './name-labels.js';

/**
 * Names, and what trains' labels must keep clear of while the scale stays: names, letters of broken
 * track, and rather also track and quiet signals. Those that say something are kept clear of as they come and go.
 */
export function labelGround(
  diagram: Diagram,
  scale: number,
  measure: Measure,
  lamps: readonly LampSpot[],
): { readonly names: readonly NameLabel[]; readonly field: LabelField } {
  const kept = linkBoxes(diagram, scale);
  const spots = lamps.map(({ at }) => at);
  return placeNames(diagram, scale, measure, kept, spots);
}

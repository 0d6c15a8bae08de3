import { stepOf, type Layout, type TrainState } from '@blockbell/railway';
import type { TruthTrain } from '@blockbell/simulation';

type Ends = Pick<TruthTrain, 'front' | 'rear'>;
type Place = TruthTrain['front'];

/** Where the leading end of a train really is, in mm along the path the engine believes it on; null: not on it. */
export const headOnPath = (layout: Layout, train: TrainState, truth: Ends): number | null =>
  placeOnPath(layout, train, train.frontLeads ? truth.front : truth.rear);

/** Where the trailing end of a train really is, likewise. */
export const tailOnPath = (layout: Layout, train: TrainState, truth: Ends): number | null =>
  placeOnPath(layout, train, train.frontLeads ? truth.rear : truth.front);

function placeOnPath(layout: Layout, train: TrainState, place: Place): number | null {
  for (let at = train.path.length - 1; at >= 0; at--) {
    const item = train.path[at]!;
    if (item.element !== place.element) continue;
    const leg = layout.elements[place.element]!.legs[place.leg]!;
    const along = stepOf(layout, item).leg.from === leg.from;
    return item.start + (along ? place.offset : leg.length - place.offset);
  }
  return null;
}

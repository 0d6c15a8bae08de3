import { stepOf, type Layout, type TrainState } from '@blockbell/railway';
import type { TruthTrain } from '@blockbell/simulation';

/** Where the leading end of a train really is, in mm along the path the engine believes it on; null: not on it. */
export function headOnPath(
  layout: Layout,
  train: TrainState,
  truth: Pick<TruthTrain, 'front' | 'rear'>,
): number | null {
  const place = train.frontLeads ? truth.front : truth.rear;
  for (let at = train.path.length - 1; at >= 0; at--) {
    const item = train.path[at]!;
    if (item.element !== place.element) continue;
    const leg = layout.elements[place.element]!.legs[place.leg]!;
    const along = stepOf(layout, item).leg.from === leg.from;
    return item.start + (along ? place.offset : leg.length - place.offset);
  }
  return null;
}

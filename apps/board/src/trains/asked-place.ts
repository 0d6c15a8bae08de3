import type { LineUpView, TrainView } from '@blockbell/contract/messages';
import type { Layout } from '@blockbell/railway';
import { isOpen } from '../lineup/line-up-steps.js';
import { headingOn } from './held-way.js';

/** The block that a train's head stands in, in its direction of travel; −1 between blocks or without a place. */
export function headingUnderHead(layout: Layout, { path, motion }: TrainView): number {
  const item = path.find(({ start, end }) => motion.head >= start && motion.head <= end);
  return headingOn(layout, item);
}

/**
 * What a person is to answer about a train's place, or null where nothing is in doubt. While trains run no line-up is
 * sent; what is ambiguous then is asked about the place where the train is believed to be.
 */
export function askedPlace(
  layout: Layout,
  train: TrainView,
  lineUp: readonly LineUpView[],
): LineUpView | null {
  const listed = lineUp.find((row) => row.train === train.train);
  if (listed) return isOpen(listed.status) ? listed : null;
  if (train.known !== 'ambiguous') return null;
  return {
    train: train.train,
    heading: headingUnderHead(layout, train),
    place: train.where,
    status: 'ask',
    text: train.evidence,
  };
}

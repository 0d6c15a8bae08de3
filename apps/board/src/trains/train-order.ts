import type { TrainView } from '@blockbell/contract/messages';

/** Trains on the layout by what comes next on the clock, those with nothing left after them, absent ones last. */
export const trainsToShow = (trains: Iterable<TrainView>): readonly TrainView[] =>
  [...trains].toSorted((p, q) => rank(p) - rank(q) || p.train - q.train);

const rank = ({ activity }: TrainView): number => (activity === 'absent' ? 1 : 0);

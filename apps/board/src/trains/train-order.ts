import type { ToldTrain } from '../live/told-train.js';

/** Trains on the layout by their number, absent ones after them. */
export const trainsToShow = (trains: Iterable<ToldTrain>): readonly ToldTrain[] =>
  [...trains].toSorted((p, q) => rank(p) - rank(q) || p.train - q.train);

const rank = ({ activity }: ToldTrain): number => (activity === 'absent' ? 1 : 0);

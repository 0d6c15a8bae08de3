import type { TrainView } from '@blockbell/contract/messages';

/** What of a train's row is drawn on the track and never told: it changes most. */
const DRAWN = ['path', 'motion', 'mark'] as const;

/** What of a train's row is told in words and in lines of the time–distance graph. */
export type ToldTrain = Omit<TrainView, (typeof DRAWN)[number]>;

const isDrawn: ReadonlySet<string> = new Set(DRAWN);

/** Whether the same is told of two rows. Both are whole, and what a message left as it was is the same object in both. */
export const tellsTheSame = (one: TrainView, other: TrainView): boolean =>
  (Object.keys({ ...one, ...other }) as (keyof TrainView)[]).every(
    (key) => one[key] === other[key] || isDrawn.has(key),
  );

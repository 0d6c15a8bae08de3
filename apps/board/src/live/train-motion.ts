import type { TrainView } from '@blockbell/contract/messages';

type Motion = TrainView['motion'];

/** Speed in mm/s at the physical instant `now`: from the reported speed towards the target, then steady. */
export function speedAt(motion: Motion, now: number): number {
  const seconds = Math.max(0, now - motion.since) / 1000;
  const change = motion.target - motion.speed;
  const reachable = Math.abs(motion.acceleration) * seconds;
  return motion.speed + Math.sign(change) * Math.min(Math.abs(change), reachable);
}

/** Path position of the head in mm at the physical instant `now`, by the same reckoning. */
export function headAt(motion: Motion, now: number): number {
  const seconds = Math.max(0, now - motion.since) / 1000;
  const change = motion.target - motion.speed;
  const rate = Math.abs(motion.acceleration);
  const changing = rate === 0 ? 0 : Math.min(seconds, Math.abs(change) / rate);
  const whileChanging =
    motion.speed * changing + (Math.sign(change) * rate * changing * changing) / 2;
  const steady = speedAt(motion, now);
  return motion.head + whileChanging + steady * (seconds - changing);
}

/** The stretch of its path that a train covers at `now`, in path mm; it is never drawn beyond its mark. */
export function extentAt(train: TrainView, now: number): { tail: number; head: number } {
  const limit = Math.max(train.mark, train.motion.head);
  const head = Math.min(headAt(train.motion, now), limit);
  return { tail: head - train.length, head };
}

import {
  callBefore,
  dweltAt,
  instantOf,
  type FastClock,
  type TrainState,
  type World,
} from '@blockbell/railway';

/** When a train may leave where it has arrived, physical ms: not before its booked time, nor before it has dwelt on either clock. 0: at any time. */
export function mayLeaveAt(
  world: World,
  train: TrainState,
  index: number,
  clock: FastClock,
  now: number,
): number {
  const call = train.arrivedAt === null ? null : callBefore(world, index, train.leg);
  if (call === null) return 0;
  const booked = call.depart === null ? null : instantOf(clock, call.depart);
  return Math.max(booked ?? 0, dweltAt(clock, call, train, now));
}

/** Since when a train has gone nowhere though its time had come, physical ms; null: it goes on, or its time is still to come. */
export function keptSince(
  world: World,
  train: TrainState,
  index: number,
  clock: FastClock,
  now: number,
): number | null {
  if (train.wait === null) return null;
  const since = Math.max(train.waitingSince, mayLeaveAt(world, train, index, clock, now));
  return since > now ? null : since;
}

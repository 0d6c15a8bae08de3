export { allocate } from './allocation/allocate.js';
export type {
  Allocation,
  Berth,
  Burial,
  Stay,
  TrackEnd,
  Yard,
  YardTrack,
} from './allocation/yard.js';
export { bookedYard } from './booked/booked-yard.js';
export type { BookedStay, BookedYard } from './booked/booked-yard.js';
export { withTracks } from './booked/with-tracks.js';
export type { Trial, TriedStay } from './trial/trial.js';
export { tryRules } from './trial/try-rules.js';
export type { ComingNow, TrackOption, YardNow, YardTrackNow, YardTrain } from './now/yard-now.js';
export { yardNow } from './now/yard-now.js';
export type { Whereabouts } from './now/whereabouts.js';
export { answered, beginReturn, dueCommands, isOver } from './return/carry-out.js';
export type { DueCommand, MoveProgress, MoveStage, ReturnRun } from './return/carry-out.js';
export { isThere, placeText } from './return/fit-to-move.js';
export { planReturn } from './return/plan-return.js';
export type { LeftCode, LeftTrain, ReturnMove, ReturnPlan } from './return/return-plan.js';

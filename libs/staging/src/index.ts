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
export { keptOut, keptOutText } from './booked/kept-out.js';
export type { KeptOut } from './booked/kept-out.js';
export { withTracks } from './booked/with-tracks.js';
export type { Trial, TriedStay } from './trial/trial.js';
export { compareTrials } from './trial/compare-trials.js';
export type { ComparedTrials } from './trial/compare-trials.js';
export { tryRules } from './trial/try-rules.js';
export type { ComingNow, TrackOption, YardNow, YardTrackNow, YardTrain } from './now/yard-now.js';
export { yardNow } from './now/yard-now.js';
export { yardEnds } from './now/end-words.js';
export type { EndWords, YardEnds } from './now/end-words.js';
export type { Whereabouts, YardKnown } from './now/whereabouts.js';
export { answered, beginReturn, dueCommands, isOver } from './return/carry-out.js';
export type { MoveStage, ReturnRun } from './return/carry-out.js';
export { planReturn } from './return/plan-return.js';
export type { LeftCode, ReturnPlan } from './return/return-plan.js';
export { tellReturn } from './return/return-words.js';
export type { ReturnTold } from './return/return-words.js';

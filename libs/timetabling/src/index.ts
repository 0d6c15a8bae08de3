export { applyChanges, changesBetween } from './booking/times.js';
export { departureOf, withServices } from './booking/with-services.js';
export { lineCapacity, type StretchCapacity } from './capacity/line-capacity.js';
export { checkTimetable, TimetableChecker, type TimetableCheck } from './check-timetable.js';
export type {
  Finding,
  FindingKind,
  FindingWeight,
  Proposal,
  TimeChange,
} from './findings/finding.js';
export { withoutTrainWords } from './findings/without-train.js';
export {
  mendTimetable,
  USUAL_MENDING,
  type MendedTimetable,
  type MendOptions,
} from './mending/mend-timetable.js';
export { repeatServices, type Pattern, type RepeatedTimetable } from './pattern/repeat.js';

export { checkTimetable, type TimetableCheck } from './check-timetable.js';
export type {
  Finding,
  FindingKind,
  FindingWeight,
  Proposal,
  TimeChange,
} from './findings/finding.js';

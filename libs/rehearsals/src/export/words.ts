import { decimal } from '../pictures/drawing.js';
import type { RehearsalReport } from '../report/report.js';
import type { Mean, Share } from '../report/statistics.js';

/** A mean with its interval. */
export const meanText = ({ mean, low, high }: Mean, unit: string): string => {
  const end = unit === '' ? '' : ` ${unit}`;
  return low === null || high === null
    ? `${decimal(mean)}${end}`
    : `${decimal(mean)}${end} (${decimal(low)} to ${decimal(high)})`;
};

/** A share with its interval. */
export const shareText = ({ percent, low, high }: Share): string =>
  `${percent.toFixed(1)} % (${low.toFixed(1)} to ${high.toFixed(1)})`;

/** How a way of dispatching is called. */
export const DISPATCHING_WORDS = {
  plan: 'with plans',
  booked: 'without plans, booked times first',
  'first-come': 'without plans, first come first',
  priority: 'without plans, priority first',
} as const;

/** All that tells one way of rehearsing from another. */
export const wayText = ({ timetable, dispatching, rules }: RehearsalReport): string =>
  `${timetable}, ${DISPATCHING_WORDS[dispatching]}, staging ${rules === null ? 'as the timetable has it' : `by ${rules}`}`;

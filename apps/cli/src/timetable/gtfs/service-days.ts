import type { Feed } from './read-feed.js';

const DAYS = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'];

/** Whether trips of a service run on a day (`YYYYMMDD`): by the week, and by the dates that are exceptions. */
export function isRun({ calendar, calendarDates }: Feed, service: string, date: string): boolean {
  const exception = calendarDates.find(
    ({ row }) => row['service_id'] === service && row['date'] === date,
  );
  if (exception !== undefined) return exception.row['exception_type'] === '1';
  const day = DAYS[weekday(date)]!;
  return calendar.some(
    ({ row }) =>
      row['service_id'] === service &&
      row[day] === '1' &&
      row['start_date']! <= date &&
      date <= row['end_date']!,
  );
}

/** 0 for Sunday. */
function weekday(date: string): number {
  const [year, month, day] = [date.slice(0, 4), date.slice(4, 6), date.slice(6)].map(Number);
  return new Date(Date.UTC(year!, month! - 1, day)).getUTCDay();
}

import { signed } from '@blockbell/railway';

const SECOND = 1_000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;

/** A length of time in words that fit a table: `1 h 05 min`, `12 min 30 s`, `8 s`; ms, rounded down. */
export function spanText(span: number): string {
  const hours = Math.floor(span / HOUR);
  const minutes = Math.floor((span % HOUR) / MINUTE);
  const seconds = Math.floor((span % MINUTE) / SECOND);
  if (hours > 0) return `${hours} h ${String(minutes).padStart(2, '0')} min`;
  return minutes > 0 ? `${minutes} min ${String(seconds).padStart(2, '0')} s` : `${seconds} s`;
}

/** Fast-clock ms of lateness as whole minutes with their unit: `+3 min`, `−1 min`, `on time`. */
export function lateText(late: number): string {
  const minutes = Math.trunc(late / MINUTE);
  if (minutes === 0) return 'on time';
  return minutes > 0 ? `+${minutes} min` : `${signed(minutes)} min`;
}

/** Day and time of an ISO 8601 moment, where the viewer is. */
export const momentText = (iso: string): string =>
  new Date(iso).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

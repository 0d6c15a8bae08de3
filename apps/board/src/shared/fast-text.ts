import { signed } from '@blockbell/railway';

const pad = (value: number): string => String(value).padStart(2, '0');

/** `HH:MM` of a fast-clock time in ms; after midnight the hours begin again. */
export function clockText(fast: number): string {
  const minutes = Math.floor(fast / 60_000);
  return `${pad(Math.floor(minutes / 60) % 24)}:${pad(minutes % 60)}`;
}

/** Whole minutes late (`+3`), early (`−1`) or `0`, from fast-clock seconds. */
export function latenessText(seconds: number): string {
  const minutes = Math.trunc(seconds / 60);
  if (minutes === 0) return '0';
  return minutes > 0 ? `+${minutes}` : signed(minutes);
}

/** The same to be read aloud. */
export function latenessWords(seconds: number): string {
  const minutes = Math.trunc(seconds / 60);
  if (minutes === 0) return 'on time';
  const count = Math.abs(minutes);
  return `${count} minute${count === 1 ? '' : 's'} ${minutes > 0 ? 'late' : 'early'}`;
}

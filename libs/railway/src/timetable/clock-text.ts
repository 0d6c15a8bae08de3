import { fastTime } from '../units.js';
import type { FastTime } from '../units.js';
import type { ClockText } from './timetable-file.js';

const CLOCK_TEXT = /^(\d{2}):([0-5]\d)(?::([0-5]\d))?$/;

/** Reads `HH:MM` or `HH:MM:SS` (hours may pass 24) as fast-clock ms since midnight; null when it is neither. */
export function parseClockText(text: ClockText): FastTime | null {
  const match = CLOCK_TEXT.exec(text);
  if (match === null) return null;
  const [, hours = '0', minutes = '0', seconds = '0'] = match;
  return fastTime(((Number(hours) * 60 + Number(minutes)) * 60 + Number(seconds)) * 1000);
}

/** Writes fast-clock ms as `HH:MM`, or `HH:MM:SS` where seconds are asked for or not zero. Fractions are dropped. */
export function formatClockText(
  time: FastTime,
  seconds: 'always' | 'if-any' = 'if-any',
): ClockText {
  const total = Math.floor(time / 1000);
  const two = (value: number): string => String(value).padStart(2, '0');
  const text = `${two(Math.floor(total / 3600))}:${two(Math.floor(total / 60) % 60)}`;
  const rest = total % 60;
  return seconds === 'always' || rest !== 0 ? `${text}:${two(rest)}` : text;
}

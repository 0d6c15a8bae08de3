import { fastTime, formatClockText } from '@blockbell/railway';
import type { RehearsalReport, YardLine } from '../report/report.js';
import { FILL, INK, LIGHT, line, picture, polygon, polyline, stepFor, text } from './drawing.js';

const HOUR = 3_600_000;

/** How full each staging yard is over the session: the median, and from the 10th to the 90th percentile. */
export function yardsPicture({ yards }: RehearsalReport): string {
  const drawn = yards.filter(({ samples }) => samples.length > 1);
  const tall = 190;
  const parts = drawn.flatMap((yard, row) => yardParts(yard, row * tall));
  if (drawn.length === 0) parts.push(text(20, 24, 'There is no staging yard.'));
  return picture(720, Math.max(1, drawn.length) * tall, 'Trains in each staging yard', parts);
}

function yardParts({ name, tracks, slots, samples }: YardLine, y0: number): string[] {
  const [left, top, width, height] = [60, y0 + 34, 640, 120];
  const [first, last] = [samples[0]!.fast, samples.at(-1)!.fast];
  const most = Math.max(1, ...samples.map(({ most: each }) => each));
  const x = (fast: number): number => left + (width * (fast - first)) / Math.max(1, last - first);
  const y = (trains: number): number => top + height - (height * trains) / most;
  const parts = [
    text(left, y0 + 20, `${name}: trains standing in it (${roomText(slots, tracks)})`),
  ];
  const step = stepFor(most, 5);
  for (let trains = 0; trains <= most; trains += step) {
    parts.push(line(left, y(trains), left + width, y(trains)));
    parts.push(text(left - 6, y(trains) + 4, `${trains}`, 'end'));
  }
  for (let fast = Math.ceil(first / HOUR) * HOUR; fast <= last; fast += HOUR) {
    parts.push(line(x(fast), top + height, x(fast), top + height + 5, INK));
    const clock = formatClockText(fastTime(fast)).slice(0, 5);
    parts.push(text(x(fast), top + height + 18, clock, 'middle'));
  }
  const above = samples.map(({ fast, p90 }) => [x(fast), y(p90)] as const);
  const below = samples.map(({ fast, p10 }) => [x(fast), y(p10)] as const);
  parts.push(polygon([...above, ...below.reverse()], LIGHT));
  parts.push(
    polyline(
      samples.map(({ fast, median }) => [x(fast), y(median)]),
      FILL,
    ),
  );
  return parts;
}

/** `3 tracks`; `6 slots in 3 tracks` where trains stand behind one another. */
function roomText(slots: number, tracks: number): string {
  const words = tracks === 1 ? '1 track' : `${tracks} tracks`;
  return slots === tracks ? words : `${slots} slots in ${words}`;
}

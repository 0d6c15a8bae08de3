import { signed } from '@blockbell/railway';
import type { RehearsalReport } from '../report/report.js';
import {
  box,
  FAINT,
  FILL,
  INK,
  LIGHT,
  line,
  minutes,
  picture,
  rowName,
  stepFor,
  STRONG,
  text,
} from './drawing.js';

/** How many arrivals were late by how much. */
export function latenessPicture({ histogram, lateness }: RehearsalReport): string {
  const [left, top, width, height] = [60, 34, 640, 240];
  const most = Math.max(1, ...histogram.map(({ count }) => count));
  const wide = width / histogram.length;
  const parts = [text(left, 20, 'Arrivals by minutes late')];
  const step = stepFor(most, 5);
  for (let count = 0; count <= most; count += step) {
    const y = top + height - (count / most) * height;
    parts.push(line(left, y, left + width, y), text(left - 6, y + 4, `${count}`, 'end'));
  }
  histogram.forEach(({ from, to, count }, bin) => {
    const tall = (count / most) * height;
    const x = left + bin * wide;
    const share = lateness.count === 0 ? 0 : (100 * count) / lateness.count;
    const hint = `${binText(from, to)}: ${count} arrivals, ${share.toFixed(1)} %`;
    const fill = from !== null && from >= 3 ? STRONG : FILL;
    parts.push(box(x + 1, top + height - tall, wide - 2, tall, fill, hint));
    if (from !== null) parts.push(text(x, top + height + 16, signed(from), 'middle'));
  });
  parts.push(line(left, top + height, left + width, top + height, INK));
  parts.push(text(left + width, top + height + 34, 'minutes of the fast clock', 'end'));
  const title = `Arrivals by minutes late: median ${minutes(lateness.median)}, 90 of 100 not more than ${minutes(lateness.p90)}`;
  return picture(720, 320, title, parts);
}

function binText(from: number | null, to: number | null): string {
  if (from === null) return `less than ${signed(to ?? 0)} min`;
  return to === null ? `${signed(from)} min and more` : `${signed(from)} to ${signed(to)} min`;
}

/** The delay of each service at its last call: from the 10th to the 90th percentile, the median, the 95th and the greatest. */
export const servicesPicture = ({ services }: RehearsalReport): string =>
  spreadPicture(
    'Delay of each service at its last call',
    services.map(({ name, late }) => ({ name, ...late })),
  );

/** The same at each station. */
export const placesPicture = ({ places }: RehearsalReport): string =>
  spreadPicture(
    'Delay of arrivals at each station',
    places.map(({ name, late }) => ({ name, ...late })),
  );

type Row = { readonly name: string } & RehearsalReport['lateness'];

function spreadPicture(heading: string, rows: readonly Row[]): string {
  const [left, top, width, tall] = [190, 50, 500, 18];
  const least = Math.min(0, ...rows.map(({ p10 }) => Math.floor(p10)));
  const most = Math.max(5, ...rows.map(({ most: each }) => Math.ceil(each)));
  const x = (value: number): number =>
    left + (width * (Math.max(least, Math.min(most, value)) - least)) / (most - least);
  const bottom = top + rows.length * tall;
  const parts = [text(left, 20, `${heading}, minutes of the fast clock`)];
  const step = stepFor(most - least, 10);
  for (let value = Math.ceil(least / step) * step; value <= most; value += step) {
    parts.push(line(x(value), top - 6, x(value), bottom, value === 0 ? INK : FAINT));
    parts.push(text(x(value), top - 10, signed(value), 'middle'));
  }
  rows.forEach(({ name, p10, median, p90, p95, most: greatest, count }, row) => {
    const y = top + row * tall;
    const hint = `${name}: median ${minutes(median)}, 10 to 90 of 100 from ${minutes(p10)} to ${minutes(p90)}, 95 of 100 up to ${minutes(p95)}, at most ${minutes(greatest)}`;
    parts.push(text(left - 8, y + 13, rowName(name), 'end'));
    if (count === 0) {
      parts.push(text(x(0) + 4, y + 13, 'never arrived'));
      return;
    }
    parts.push(line(x(p90), y + 9, x(greatest), y + 9, LIGHT, 2));
    parts.push(box(x(p10), y + 4, Math.max(2, x(p90) - x(p10)), 10, LIGHT, hint));
    parts.push(box(x(median) - 1.5, y + 2, 3, 14, INK, hint));
    parts.push(line(x(p95), y + 4, x(p95), y + 14, STRONG, 2));
  });
  const legend =
    'bar: 10th to 90th percentile · dark: median · brown: 95th percentile · thin: greatest';
  parts.push(text(left, bottom + 22, legend));
  return picture(720, bottom + 34, heading, parts);
}

import type { RehearsalReport } from '../report/report.js';
import { box, FILL, minutes, picture, rowName, STRONG, text } from './drawing.js';

/** How many places and causers are drawn. */
const DRAWN = 15;
const SHADES = [FILL, STRONG, '#4b5b6b', '#6d8f3c', '#8a6fb0'];

/** Where trains wait for others and for whom, minutes a session. */
export const waitsPicture = ({ waits }: RehearsalReport): string =>
  barsPicture(
    'Where trains wait for others, and for whom, in a session',
    waits.byPlace.slice(0, DRAWN).map(({ place, perSession, for: whom }) => ({
      name: place,
      perSession,
      parts: whom,
    })),
  );

/** Who makes others wait and whom, minutes a session. */
export const causersPicture = ({ waits }: RehearsalReport): string =>
  barsPicture(
    'Who makes other trains wait, and whom, in a session',
    waits.byTrain.slice(0, DRAWN).map(({ train, perSession, whom }) => ({
      name: train,
      perSession,
      parts: whom,
    })),
  );

interface Bar {
  readonly name: string;
  readonly perSession: number;
  readonly parts: readonly { readonly train: string; readonly perSession: number }[];
}

function barsPicture(heading: string, bars: readonly Bar[]): string {
  const [left, top, width, tall] = [190, 34, 420, 22];
  const most = Math.max(0.1, ...bars.map(({ perSession }) => perSession));
  const parts = [text(left, 20, `${heading}, minutes of the fast clock`)];
  bars.forEach(({ name, perSession, parts: pieces }, row) => {
    const y = top + row * tall;
    parts.push(text(left - 8, y + 15, rowName(name), 'end'));
    let x = left;
    pieces.forEach(({ train, perSession: time }, piece) => {
      const wide = (width * time) / most;
      const hint = `${name}, ${train}: ${minutes(time)}`;
      parts.push(box(x, y + 3, wide, 15, SHADES[piece % SHADES.length]!, hint));
      if (wide > 7 * train.length + 6) parts.push(text(x + 4, y + 15, train, 'start', '#ffffff'));
      x += wide;
    });
    parts.push(text(x + 6, y + 15, minutes(perSession)));
  });
  if (bars.length === 0) parts.push(text(left, top + 16, 'No train waited for another.'));
  return picture(720, top + Math.max(1, bars.length) * tall + 12, heading, parts);
}

import { signed } from '@blockbell/railway';
import escapeHtml from 'escape-html';

/** Ink and paper of the pictures: they print well and need no style sheet. */
export const INK = '#1d2733';
export const FAINT = '#c3cad3';
export const FILL = '#2f6fab';
export const LIGHT = '#a9c8e6';
export const STRONG = '#b3541e';

/** A whole picture; `title` says in words what is to be seen. */
export const picture = (
  width: number,
  height: number,
  title: string,
  parts: readonly string[],
): string =>
  [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" font-family="system-ui, sans-serif" font-size="12">`,
    `<title>${escapeHtml(title)}</title>`,
    `<rect width="${width}" height="${height}" fill="#ffffff"/>`,
    ...parts,
    '</svg>',
  ].join('\n');

export type Anchor = 'start' | 'middle' | 'end';

export const text = (
  x: number,
  y: number,
  words: string,
  anchor: Anchor = 'start',
  fill = INK,
): string =>
  `<text x="${at(x)}" y="${at(y)}" text-anchor="${anchor}" fill="${fill}">${escapeHtml(words)}</text>`;

export const line = (
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  stroke = FAINT,
  width = 1,
): string =>
  `<line x1="${at(x1)}" y1="${at(y1)}" x2="${at(x2)}" y2="${at(y2)}" stroke="${stroke}" stroke-width="${width}"/>`;

/** A box with a hint. */
export const box = (
  x: number,
  y: number,
  width: number,
  height: number,
  fill: string,
  hint = '',
): string =>
  `<rect x="${at(x)}" y="${at(y)}" width="${at(Math.max(0, width))}" height="${at(height)}" fill="${fill}">` +
  `${hint === '' ? '' : `<title>${escapeHtml(hint)}</title>`}</rect>`;

export const polyline = (points: readonly (readonly [number, number])[], stroke: string): string =>
  `<polyline points="${pairs(points)}" fill="none" stroke="${stroke}" stroke-width="2"/>`;

export const polygon = (points: readonly (readonly [number, number])[], fill: string): string =>
  `<polygon points="${pairs(points)}" fill="${fill}"/>`;

const pairs = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y]) => `${at(x)},${at(y)}`).join(' ');

/** Words that may lie on lines: on a rim of paper. */
export const words = (x: number, y: number, said: string, fill = INK): string =>
  `<text x="${at(x)}" y="${at(y)}" text-anchor="middle" fill="${fill}" stroke="#ffffff" stroke-width="4" paint-order="stroke">${escapeHtml(said)}</text>`;

const at = (value: number): string => `${Math.round(value * 10) / 10}`;

/** A round step that divides a range into no more than about so many parts. */
export function stepFor(range: number, parts: number): number {
  const steps = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000];
  return steps.find((step) => range / step <= parts) ?? 100_000;
}

/** A number with one decimal. */
export const decimal = (value: number): string => {
  const text = value.toFixed(1);
  return text === '-0.0' ? '0.0' : signed(text);
};

/** Minutes with one decimal. */
export const minutes = (value: number): string => `${decimal(value)} min`;

/** A name as long as there is room for at the left of a row; its end tells slots of a track apart. */
export const rowName = (name: string): string =>
  name.length > 26 ? `${name.slice(0, 15)}…${name.slice(-10)}` : name;

import type { SignalView } from '@blockbell/contract/messages';
import { blockOf } from '@blockbell/railway';
import type { LiveRows } from '../live/live-rows.js';
import { centredAt } from './box.js';
import type { Box } from './box.js';
import { DETAIL_FROM } from './detail.js';
import type { Shows } from './item-watch.js';
import type { LampSpot } from './lamp-spots.js';

export type Aspect = SignalView['aspect'];

export const aspectOf = (rows: LiveRows, heading: number): Aspect =>
  rows.signals.get(heading)?.aspect ?? 'stop';

export const lampWords = (name: string, aspect: string): string =>
  `Signal at the end of ${name}: ${aspect}`;

/** Whether the train that holds the block is coming to this signal. */
function isFaced(rows: LiveRows, heading: number): boolean {
  const block = blockOf(heading);
  const holder = rows.elements.get(block)?.holder ?? -1;
  const exit = (heading & 1) === 0 ? 'b' : 'a';
  return (
    holder >= 0 &&
    (rows.trains.get(holder)?.path.some(({ element, to }) => element === block && to === exit) ??
      false)
  );
}

type LampShape = Aspect | 'square' | 'bar';

/** A signal at stop that no train is coming to is drawn as a quiet bar; in close quarters stop is a square. */
export function lampShape({ heading, roomy }: LampSpot, rows: LiveRows): LampShape {
  const aspect = aspectOf(rows, heading);
  if (aspect !== 'stop') return aspect;
  if (!isFaced(rows, heading)) return 'bar';
  return roomy ? 'stop' : 'square';
}

/** By which rows a lamp is drawn as it is. */
export const lampShows = ({ heading }: LampSpot): Shows => ({
  signals: [heading],
  elements: [blockOf(heading)],
});

/** A bar's length, and across a lamp's other shapes, pixels. */
export const BAR = 7;
export const LETTER = 14;
export const squareSize = (scale: number): number => (scale < DETAIL_FROM ? 4 : 7);

/** What a lamp that says something covers of the picture, in pixels from the drawing's origin. */
export function lampBox({ at }: LampSpot, shape: Exclude<LampShape, 'bar'>, scale: number): Box {
  const size = shape === 'square' ? squareSize(scale) : LETTER;
  return centredAt(at, size, size);
}

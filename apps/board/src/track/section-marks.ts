import type { LiveRows } from '../live/live-rows.js';
import { centredAt } from './box.js';
import type { Box } from './box.js';
import type { BlockShape, Diagram } from './diagram.js';
import type { LabelField } from './label-field.js';
import { lineOf, pointAt } from './line.js';
import type { Point } from './line.js';
import { scaled } from './name-labels.js';

/** A "?" over an unidentified occupancy or a "∅" on track whose detector is silent; one for each block. */
export interface SectionMark {
  readonly kind: 'stranger' | 'unknown';
  readonly block: number;
  readonly name: string;
  /** Where it stands, screen pixels from the drawing's origin. */
  readonly at: Point;
  readonly box: Box;
}

const STRANGER_SIZE = [26, 20] as const;
const UNKNOWN_SIZE = [14, 12] as const;
/** Pixels from the track to the middle of a "?". */
const ABOVE = 17;
/** Where along its part a mark may stand, best first. */
const ALONG = [0.5, 0.75, 0.25, 0.95, 0.05];
/** Blocks drawn shorter than this many pixels keep their dots without a sign. */
const SIGN_FROM = 30;
/** Where more than this share of all sections is unknown, the dots alone say so. */
const MOST_UNKNOWN = 0.5;

/** Marks keep off names; a "?" always finds a place, a "∅" only where there is room. */
export function sectionMarks(
  { blocks }: Diagram,
  sections: LiveRows['sections'],
  scale: number,
  names: LabelField,
): readonly SectionMark[] {
  const strangers = new Set<number>();
  const silents = new Set<number>();
  for (const { section, belief, unidentified } of sections.values()) {
    if (unidentified != null) strangers.add(section);
    if (belief === 'unknown') silents.add(section);
  }
  const signs = silents.size > 0 && silents.size <= sections.size * MOST_UNKNOWN;
  if (strangers.size === 0 && !signs) return [];
  return blocks.flatMap((shape): readonly SectionMark[] => {
    const base = { block: shape.element.index, name: shape.name };
    const strange = partIn(shape, strangers);
    if (strange) {
      const places = ALONG.flatMap((share): Point[] => {
        const along = strange.from + (strange.to - strange.from) * share;
        const [x, y] = scaled(pointAt(shape.line, along).point, scale);
        return [
          [x, y - ABOVE],
          [x, y + ABOVE],
        ];
      });
      const boxes = places.map((at) => ({ at, box: centredAt(at, ...STRANGER_SIZE) }));
      const free = boxes.find(({ box }) => names.isFree(box)) ?? boxes[0];
      return free ? [{ ...base, ...free, kind: 'stranger' }] : [];
    }
    const silent = signs ? partIn(shape, silents) : null;
    if (!silent || shape.line.length * scale < SIGN_FROM) return [];
    const line = lineOf(shape.line.points.map((point) => scaled(point, scale)));
    const boxes = ALONG.map((share) => {
      const at = pointAt(line, silent.from + (silent.to - silent.from) * share).point;
      return { at, box: centredAt(at, ...UNKNOWN_SIZE) };
    });
    const free = boxes.find(({ box }) => names.isFree(box));
    return free ? [{ ...base, ...free, kind: 'unknown' }] : [];
  });
}

/** Whether two findings would look the same. */
export const sameMarks = (p: readonly SectionMark[], q: readonly SectionMark[]): boolean =>
  p.length === q.length &&
  p.every(({ kind, block, at: [x, y] }, index) => {
    const other = q[index];
    return other?.kind === kind && other.block === block && other.at[0] === x && other.at[1] === y;
  });

/** From the first to the last part of a block whose section is one of these, as fractions; null where none is. */
function partIn(
  { pieces }: BlockShape,
  sections: ReadonlySet<number>,
): { readonly from: number; readonly to: number } | null {
  const parts = pieces.filter(({ section }) => sections.has(section));
  const first = parts[0];
  const last = parts.at(-1);
  return first && last ? { from: first.from, to: last.to } : null;
}

import type { LiveRows } from '../live/live-rows.js';
import type { Selection } from '../shared/selection.svelte.js';
import { boxAround } from './box.js';
import type { BlockShape, Diagram, JunctionShape } from './diagram.js';
import { groundItems } from './ground-items.js';
import { gapsOf } from './junction-gaps.js';
import { partOf } from './line.js';
import type { Item, Pen } from './paint-layer.js';
import { lineWidth, pathOf, stroke } from './strokes.js';

/** What the track shows of the state and of what is looked at. */
export interface TrackState {
  readonly rows: LiveRows;
  readonly selection: Selection;
  /** The block under the pointer while one is being chosen. */
  readonly aimedAt: () => number | null;
}

const TRACK = 3;
const HIDDEN_TRACK = 2;
const REACH = 10;
const UNKNOWN_DASH = [2, 5];

type PieceState = 'plain' | 'occupied' | 'stranger' | 'unknown';

/** Grounds, platforms, blocks and turnouts: everything that trains run on, in the order in which it lies. */
export const trackItems = (diagram: Diagram, state: TrackState): readonly Item[] => [
  ...groundItems(diagram),
  ...diagram.blocks.map((shape) => blockItem(shape, state)),
  ...diagram.junctions.map((shape) => junctionItem(shape, state)),
];

function blockItem({ element, line, pieces }: BlockShape, state: TrackState): Item {
  const whole = pathOf([line.points]);
  const width = element.hidden ? HIDDEN_TRACK : TRACK;
  const stateOf = (section: number): PieceState => {
    const row = state.rows.sections.get(section);
    if (row?.unidentified != null) return 'stranger';
    if (row?.belief === 'unknown') return 'unknown';
    return row?.belief === 'occupied' && row.claim < 0 ? 'occupied' : 'plain';
  };
  return {
    box: boxOf([line.points]),
    reach: REACH,
    shows: { sections: pieces.map(({ section }) => section), elements: [element.index] },
    look: () => {
      const parts = pieces.map(({ section }) => stateOf(section));
      const marked = parts.every((one) => one === 'plain') ? '' : parts.join(' ');
      return marked + lightOn(element.index, state);
    },
    paint: (pen) => {
      paintLight(pen, whole, element.index, state);
      const states = pieces.map(({ section }) => stateOf(section));
      if (states.every((one) => one === 'plain')) {
        stroke(pen, whole, { ink: '--track', width: lineWidth(width, pen.scale), cap: 'round' });
        return;
      }
      const drawn = lineWidth(width, pen.scale);
      pieces.forEach(({ from, to }, index) =>
        paintPiece(pen, pathOf([partOf(line, from, to)]), states[index] ?? 'plain', drawn),
      );
    },
  };
}

function paintPiece(pen: Pen, part: Path2D, state: PieceState, width: number): void {
  if (state === 'plain') stroke(pen, part, { ink: '--track', width, cap: 'round' });
  else if (state === 'unknown')
    stroke(pen, part, {
      ink: '--track-unknown',
      width: lineWidth(3.5, pen.scale),
      dash: UNKNOWN_DASH,
    });
  else {
    stroke(pen, part, { ink: '--ink', width: lineWidth(10, pen.scale) });
    if (state === 'stranger')
      stroke(pen, part, { ink: '--panel', width: lineWidth(8, pen.scale), dash: [4, 6] });
  }
}

function junctionItem({ element, legs }: JunctionShape, state: TrackState): Item {
  const lines = legs.map(({ line }) => line);
  const whole = pathOf(lines.map(({ points }) => points));
  const unknown = (): boolean =>
    element.sections.some((section) => state.rows.sections.get(section)?.belief === 'unknown');
  const position = (): string | null => state.rows.elements.get(element.index)?.position ?? null;
  return {
    box: boxOf(lines.map(({ points }) => points)),
    reach: REACH,
    shows: { sections: element.sections, elements: [element.index] },
    look: () => `${position() ?? ''}${unknown() ? '?' : ''}${lightOn(element.index, state)}`,
    paint: (pen) => {
      paintLight(pen, whole, element.index, state);
      const drawn = gapsOf(
        legs.map(({ leg }) => leg),
        position(),
      ).flatMap(({ from, to }, index) => {
        const line = lines[index];
        return line ? [partOf(line, from, to)] : [];
      });
      const silent = unknown();
      stroke(pen, pathOf(drawn), {
        ink: silent ? '--track-unknown' : '--track',
        width: lineWidth(element.hidden ? HIDDEN_TRACK : TRACK, pen.scale),
        dash: silent ? UNKNOWN_DASH : [],
      });
    },
  };
}

const lightOn = (element: number, { selection, aimedAt }: TrackState): string =>
  `${selection.element === element ? ' chosen' : ''}${aimedAt() === element ? ' aimed at' : ''}`;

function paintLight(pen: Pen, path: Path2D, element: number, state: TrackState): void {
  const light = { ink: '--focus', opacity: 0.35, cap: 'round' } as const;
  if (state.selection.element === element) stroke(pen, path, { ...light, width: 9 });
  if (state.aimedAt() === element) stroke(pen, path, { ...light, width: 16 });
}

const NOWHERE = { x: 0, y: 0, width: 0, height: 0 };

const boxOf = (lines: Parameters<typeof pathOf>[0]): Item['box'] =>
  boxAround(lines.flat()) ?? NOWHERE;

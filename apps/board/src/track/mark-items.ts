import type { LiveRows } from '../live/live-rows.js';
import { trainInk } from '../shared/train-colours.js';
import { DETAIL_FROM } from './detail.js';
import type { Diagram, EndShape, JunctionShape } from './diagram.js';
import { pointAt } from './line.js';
import type { Point } from './line.js';
import type { BrokenLink } from './links.js';
import type { Item } from './paint-layer.js';
import type { SectionMark } from './section-marks.js';
import { stamp } from './stamps.js';
import { dot, inPixels, pathOf, stroke, write } from './strokes.js';
import type { Brush } from './strokes.js';

const at = ([x, y]: Point): Item['box'] => ({ x, y, width: 0, height: 0 });

/** Ends of track, where it goes on elsewhere, and how turnouts are proven and locked. */
export const markItems = (diagram: Diagram, rows: LiveRows): readonly Item[] => [
  ...diagram.ends.map(endItem),
  ...diagram.links.flatMap(linkItems),
  ...diagram.junctions
    .filter(({ element }) => element.drive !== null)
    .map((shape) => driveItem(shape, rows)),
];

const endItem = ({ point, angle }: EndShape): Item => ({
  box: at(point),
  reach: 9,
  paint: (pen) =>
    inPixels(pen, point, angle, () => {
      pen.context.fillStyle = pen.inks.of('--ink');
      pen.context.fillRect(-1.75, -6, 3.5, 12);
    }),
});

function linkItems({ from, to, letter }: BrokenLink): readonly Item[] {
  if (letter !== null) return [from, to].map((point) => letterItem(point, letter));
  const path = pathOf([[from, to]]);
  return [
    {
      box: {
        x: Math.min(from[0], to[0]),
        y: Math.min(from[1], to[1]),
        width: Math.abs(from[0] - to[0]),
        height: Math.abs(from[1] - to[1]),
      },
      reach: 2,
      paint: (pen) => stroke(pen, path, { ink: '--track', width: 2, dash: [4, 3] }),
    },
  ];
}

const letterItem = (point: Point, letter: string): Item => ({
  box: at(point),
  reach: 12,
  paint: (pen) => stamp(pen, point, `link ${letter}`, 24, (brush) => paintLetter(brush, letter)),
});

function paintLetter(brush: Brush, letter: string): void {
  const { context, inks } = brush;
  const half = letter.length > 1 ? 10 : 6.5;
  context.beginPath();
  context.roundRect(-half, -6.5, 2 * half, 13, 3);
  context.fillStyle = inks.of('--panel');
  context.fill();
  context.strokeStyle = inks.of('--track');
  context.lineWidth = 1.5;
  context.stroke();
  write(brush, letter, '600 12px', '--muted', 4.3);
}

function driveItem({ element, node, legs }: JunctionShape, rows: LiveRows): Item {
  const row = () => rows.elements.get(element.index);
  /** Along the leg that is set, so that the bar lies beside it. */
  const angle = (): number => {
    const position = row()?.position;
    const set = legs.find(({ leg }) => leg.position === position) ?? legs[0];
    return set ? pointAt(set.line, 0.1).angle : 0;
  };
  return {
    box: at(node),
    reach: 13,
    shows: { elements: [element.index] },
    look: () => {
      const { proof, holder, position } = row() ?? {};
      return `${proof ?? 'none'} ${(holder ?? -1) >= 0 ? `${holder} ${position}` : ''}`;
    },
    paint: (pen) => {
      const holder = row()?.holder ?? -1;
      if (holder >= 0 && pen.scale >= DETAIL_FROM)
        inPixels(pen, node, angle(), () => {
          const { context, inks } = pen;
          context.beginPath();
          context.roundRect(-7, -9, 14, 3.5, 1);
          context.fillStyle = inks.of(trainInk(holder));
          context.fill();
        });
      const sign = proofSign(row()?.proof ?? 'none', pen.scale < DETAIL_FROM);
      if (sign) stamp(pen, node, sign.name, 2 * SIGN_RADIUS, sign.paint);
    },
  };
}

interface ProofSign {
  readonly name: string;
  readonly paint: (brush: Brush) => void;
}

/** How far a sign reaches, pixels. */
const SIGN_RADIUS = 10;

/**
 * What stands on a turnout. One that is being moved pulses; what pulses lies above this. Where the whole of a large railway is seen,
 * dots would hide it: it shows what is not as it should be.
 */
function proofSign(proof: string, fromAfar: boolean): ProofSign | null {
  if (proof === 'failed') return FAILED;
  if (proof === 'presumed') return fromAfar ? PRESUMED_AFAR : PRESUMED;
  if (proof === 'moving' || fromAfar) return null;
  return proof === 'proven' ? PROVEN : UNPROVEN;
}

function outlined({ context, inks }: Brush, radius: number, ground: string, ink: string): void {
  dot({ context, inks }, radius);
  context.fillStyle = inks.of(ground);
  context.fill();
  context.strokeStyle = inks.of(ink);
  context.stroke();
}

const FAILED: ProofSign = {
  name: 'failed',
  paint: (brush) => {
    brush.context.lineWidth = 2;
    outlined(brush, 8.5, '--panel', '--danger-ink');
    write(brush, '!', '700 13px', '--danger-ink', 4.5);
  },
};
const PROVEN: ProofSign = {
  name: 'proven',
  paint: (brush) => {
    dot(brush, 2.6);
    brush.context.fillStyle = brush.inks.of('--ink');
    brush.context.fill();
  },
};
const UNPROVEN: ProofSign = {
  name: 'unproven',
  paint: (brush) => {
    brush.context.lineWidth = 1.6;
    outlined(brush, 3.2, '--ground', '--track');
  },
};
const presumed = (name: string, radius: number): ProofSign => ({
  name,
  paint: (brush) => {
    brush.context.lineWidth = 1.6;
    brush.context.setLineDash([2, 1.6]);
    outlined(brush, radius, '--ground', '--ink');
  },
});
const PRESUMED = presumed('presumed', 3.2);
const PRESUMED_AFAR = presumed('presumed afar', 2);

/** The "∅" on track whose detector is silent. `scale`: for which the marks were placed. */
export const silentItems = (marks: readonly SectionMark[], scale: number): readonly Item[] =>
  marks
    .filter(({ kind }) => kind === 'unknown')
    .map(({ at: [x, y] }): Item => {
      const point = [x / scale, y / scale] as const;
      return {
        box: at(point),
        reach: 10,
        paint: (pen) => stamp(pen, point, 'silent', 20, paintSilent),
      };
    });

function paintSilent(brush: Brush): void {
  const { context, inks } = brush;
  context.font = `400 13px ${inks.of('--font')}`;
  context.textAlign = 'center';
  context.strokeStyle = inks.of('--ground');
  context.lineWidth = 4;
  context.strokeText('∅', 0, 4.5);
  write(brush, '∅', '400 13px', '--muted', 4.5);
}

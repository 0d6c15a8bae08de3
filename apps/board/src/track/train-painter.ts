import type { Selection } from '../shared/selection.svelte.js';
import { isStriped, trainInk } from '../shared/train-colours.js';
import { grown, overlap } from './box.js';
import type { Inks } from './inks.svelte.js';
import type { Point } from './line.js';
import type { TrainPlace } from './moving-trains.js';
import { fitCanvas, useUnits } from './paint-layer.js';
import type { Pen, Sight } from './paint-layer.js';
import { arrowsAlong } from './path-shape.js';
import { DETAIL_FROM, lineWidth, pathOf, stroke } from './strokes.js';

/** A dotted line from a train to its label, in the board's units. */
export interface Leader {
  readonly train: number;
  readonly from: Point;
  readonly to: Point;
}

/** Pixels between the arrows on a reserved way. */
const ARROWS = 46;
/** An arrow's points, pixels. */
const ARROW = [
  [-4, -5],
  [2, 0],
  [-4, 5],
] as const;
const REACH = 12;
const DIMMED = 0.45;

/** What a train's paths are made of; kept while it stays where it is. */
interface TrainPaths {
  readonly scale: number;
  readonly band: Path2D;
  readonly ahead: Path2D;
  readonly behind: Path2D;
  readonly arrows: Path2D;
}

/** Paints bands, ways ahead and leaders on a canvas of their own. */
export class TrainPainter {
  readonly #paths = new WeakMap<TrainPlace, TrainPaths>();

  constructor(readonly canvas: HTMLCanvasElement) {}

  paint(
    places: Iterable<TrainPlace>,
    leaders: readonly Leader[],
    sight: Sight,
    bandWidth: number,
    inks: Inks,
    selection: Selection,
  ): void {
    const ratio = fitCanvas(this.canvas, sight);
    const context = this.canvas.getContext('2d');
    if (!context) return;
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.clearRect(0, 0, this.canvas.width, this.canvas.height);
    useUnits(context, sight, ratio);
    const { scale } = sight;
    const area = {
      x: -sight.offsetX / scale,
      y: -sight.offsetY / scale,
      width: sight.width / scale,
      height: sight.height / scale,
    };
    const pen = { context, scale, inks, area };
    for (const place of places) {
      if (!overlap(grown(place.box, REACH / scale), area)) continue;
      this.#paintTrain(pen, place, bandWidth, selection);
    }
    for (const { train, from, to } of leaders)
      stroke(pen, pathOf([[from, to]]), { ink: trainInk(train), width: 1.5, dash: [2, 2] });
  }

  #paintTrain(pen: Pen, place: TrainPlace, bandWidth: number, selection: Selection): void {
    const { train } = place;
    const ink = trainInk(train);
    const opacity = selection.dimmed(train) ? DIMMED : 1;
    const { band, ahead, behind, arrows } = this.#pathsOf(place, pen.scale);
    stroke(pen, behind, { ink, width: lineWidth(2.5, pen.scale), opacity: 0.6 * opacity });
    stroke(pen, ahead, { ink, width: lineWidth(4, pen.scale), dash: [9, 5], opacity });
    if (pen.scale >= DETAIL_FROM) stroke(pen, arrows, { ink, width: 2.5, cap: 'round', opacity });
    if (selection.lit(train)) stroke(pen, band, { ink, width: bandWidth + 6, opacity: 0.3 });
    stroke(pen, band, { ink, width: bandWidth, opacity });
    if (isStriped(train)) stroke(pen, band, { ink: '--ground', width: 2, opacity });
  }

  #pathsOf(place: TrainPlace, scale: number): TrainPaths {
    const known = this.#paths.get(place);
    if (known?.scale === scale) return known;
    const made = {
      scale,
      band: pathOf(place.band),
      ahead: pathOf(place.ahead),
      behind: pathOf(place.behind),
      arrows: pathOf(
        scale < DETAIL_FROM
          ? []
          : place.ahead
              .flatMap((points) => arrowsAlong(points, ARROWS / scale))
              .map(arrowAt(scale)),
      ),
    };
    this.#paths.set(place, made);
    return made;
  }
}

const arrowAt =
  (scale: number) =>
  ({ point: [x, y], angle }: ReturnType<typeof arrowsAlong>[number]): readonly Point[] => {
    const [cos, sin] = [Math.cos(angle) / scale, Math.sin(angle) / scale];
    return ARROW.map(([u, v]) => [x + u * cos - v * sin, y + u * sin + v * cos]);
  };

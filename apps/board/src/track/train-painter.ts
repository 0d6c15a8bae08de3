import type { Selection } from '../shared/selection.svelte.js';
import { isStriped, trainInk } from '../shared/train-colours.js';
import { grown, overlap } from './box.js';
import type { Box } from './box.js';
import type { Diagram } from './diagram.js';
import { DETAIL_FROM } from './detail.js';
import type { Inks } from './inks.svelte.js';
import type { Point } from './line.js';
import { changedBoxes } from './moving-trains.js';
import type { TrainPlace } from './moving-trains.js';
import { beginPart, placeOnScreen, surfaceOf, wholeOf } from './paint-layer.js';
import type { Pen, Sight } from './paint-layer.js';
import { arrowsAlong } from './path-shape.js';
import { merged } from './places.js';
import { lineWidth, pathOf, stroke } from './strokes.js';

/** What is painted, and how it is seen. */
export interface TrainPicture {
  readonly places: ReadonlyMap<number, TrainPlace>;
  readonly sight: Sight;
  /** Pixels across a band. */
  readonly bandWidth: number;
  readonly inks: Inks;
  readonly selection: Selection;
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
/** More changed places than this cost more one by one than all at once. */
const MOST_PLACES = 60;

/** What a train's paths are made of; kept while it stays where it is. */
interface TrainPaths {
  readonly scale: number;
  readonly band: Path2D;
  readonly ahead: Path2D;
  readonly behind: Path2D;
  readonly arrows: Path2D;
}

/** Paints bands and ways ahead on a canvas of their own, and again only where they changed. */
export class TrainPainter {
  readonly #paths = new WeakMap<TrainPlace, TrainPaths>();
  #painted: TrainPicture | null = null;
  /** Which trains stood out or back when they were painted. */
  #look = '';

  readonly #canvas: OffscreenCanvas;

  constructor(
    canvas: HTMLCanvasElement,
    readonly diagram: Diagram,
  ) {
    this.#canvas = surfaceOf(canvas);
  }

  paint(picture: TrainPicture): void {
    const { sight, inks, selection, bandWidth } = picture;
    const before = this.#painted;
    const look = `${selection.train} ${selection.pointed} ${inks.version} ${bandWidth}`;
    const anew = before === null || before.sight !== sight || look !== this.#look;
    this.#painted = picture;
    this.#look = look;
    const places = anew ? [] : merged(this.#changed(before, picture));
    if (anew || places.length > MOST_PLACES) this.#paintPart(picture, wholeOf(sight));
    else for (const place of places) this.#paintPart(picture, place);
  }

  /** What looks different, in pixels of the canvas. */
  #changed(before: TrainPicture, { places, sight }: TrainPicture): readonly Box[] {
    const boxes: Box[] = [];
    for (const train of new Set([...before.places.keys(), ...places.keys()])) {
      const [was, is] = [before.places.get(train), places.get(train)];
      if (was !== is) boxes.push(...changedBoxes(this.diagram, was, is));
    }
    return boxes.map((box) => placeOnScreen(box, REACH, sight));
  }

  #paintPart({ places, sight, bandWidth, inks, selection }: TrainPicture, part: Box): void {
    const pen = beginPart(this.#canvas, sight, inks, part);
    if (!pen) return;
    const near = grown(pen.area, REACH / sight.scale);
    for (const place of places.values())
      if (overlap(grown(place.box, 1 / sight.scale), near))
        this.#paintTrain(pen, place, bandWidth, selection);
    pen.context.restore();
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
    // Dashes and arrows are counted from the way's far end, so that they lie still while the train comes nearer.
    const ahead = place.ahead.map((points) => points.toReversed());
    const made = {
      scale,
      band: pathOf(place.band),
      ahead: pathOf(ahead),
      behind: pathOf(place.behind),
      arrows: pathOf(
        scale < DETAIL_FROM
          ? []
          : ahead.flatMap((points) => arrowsAlong(points, ARROWS / scale)).map(arrowAt(scale)),
      ),
    };
    this.#paths.set(place, made);
    return made;
  }
}

/** An arrow against the direction in which its way was gone along. */
const arrowAt =
  (scale: number) =>
  ({ point: [x, y], angle }: ReturnType<typeof arrowsAlong>[number]): readonly Point[] => {
    const [cos, sin] = [-Math.cos(angle) / scale, -Math.sin(angle) / scale];
    return ARROW.map(([u, v]) => [x + u * cos - v * sin, y + u * sin + v * cos]);
  };

import type { TrainView } from '@blockbell/contract/messages';
import { extentAt } from '../live/train-motion.js';
import { boxAround, grown, overlap } from './box.js';
import type { Box } from './box.js';
import type { Diagram } from './diagram.js';
import type { Point } from './line.js';
import { boxOfPath, placeOf, stretchOf } from './path-shape.js';

/** Where a train is drawn, in the board's units. */
export interface TrainPlace {
  readonly train: number;
  readonly path: TrainView['path'];
  /** Path positions of head and tail, mm. */
  readonly from: number;
  readonly to: number;
  readonly head: Point | null;
  readonly tail: Point | null;
  /** Points along its band. */
  readonly spots: readonly Point[];
  readonly band: readonly (readonly Point[])[];
  /** Its way reserved ahead, and what it still holds behind. */
  readonly ahead: readonly (readonly Point[])[];
  readonly behind: readonly (readonly Point[])[];
  readonly box: Box;
}

const BAND_POINTS = 9;
/** What moved less than this isn't drawn anew, pixels. */
const STILL = 0.5;

/** How far a train reaches beyond its way, pixels: its band, and arrows. */
const REACH = 16;

/** Keeps where each train is drawn; what stands, moves too little to be seen, or is out of sight is not reckoned anew. */
export class MovingTrains {
  #places: ReadonlyMap<number, TrainPlace> = new Map();
  #scale = 0;

  constructor(readonly diagram: Diagram) {}

  /** Of trains of which anything may be seen, in the order of the rows. */
  get places(): ReadonlyMap<number, TrainPlace> {
    return this.#places;
  }

  /**
   * Brings all trains to a moment (physical ms) at so many pixels per unit. `sight`: what is seen, in the board's units. True when
   * any looks different.
   */
  follow(rows: Iterable<TrainView>, now: number, scale: number, sight: Box): boolean {
    const before = this.#places;
    const places = new Map<number, TrainPlace>();
    const near = grown(sight, REACH / scale);
    let moved = scale !== this.#scale;
    for (const row of rows) {
      if (!this.#isNear(row, near)) continue;
      const last = before.get(row.train);
      const { head, tail } = extentAt(row, now);
      const isWhereItWas =
        last?.path === row.path &&
        ((head === last.to && tail === last.from) ||
          (isAt(this.#point(row, head), last.head, STILL / scale) &&
            isAt(this.#point(row, tail), last.tail, STILL / scale)));
      const place = isWhereItWas ? last : this.#placeOf(row, head, tail);
      moved ||= place !== last;
      places.set(row.train, place);
    }
    moved ||= places.size !== before.size;
    this.#places = places;
    this.#scale = scale;
    return moved;
  }

  /** Whether any of its way may be seen there. */
  #isNear({ path }: TrainView, seen: Box): boolean {
    const box = boxOfPath(this.diagram, path);
    return box !== null && overlap(box, seen);
  }

  #point({ path }: TrainView, at: number): Point | null {
    return placeOf(this.diagram, path, at)?.point ?? null;
  }

  #placeOf(row: TrainView, head: number, tail: number): TrainPlace {
    const { path, train } = row;
    const stretch = (from: number, to: number) => stretchOf(this.diagram, path, from, to);
    const band = stretch(tail, head);
    const ahead = stretch(head, path.at(-1)?.end ?? 0);
    const behind = stretch(path[0]?.start ?? 0, tail);
    return {
      train,
      path,
      from: tail,
      to: head,
      head: this.#point(row, head),
      tail: this.#point(row, tail),
      spots: Array.from({ length: BAND_POINTS }, (_, index) =>
        this.#point(row, tail + ((head - tail) * index) / (BAND_POINTS - 1)),
      ).filter((point) => point !== null),
      band,
      ahead,
      behind,
      box: boxAround([...band, ...ahead, ...behind].flat()) ?? { x: 0, y: 0, width: 0, height: 0 },
    };
  }
}

/** Where a train looks different than it did: all of it, or only what lies between where its ends are and were. */
export function changedBoxes(
  diagram: Diagram,
  before: TrainPlace | undefined,
  after: TrainPlace | undefined,
): readonly Box[] {
  if (!before || !after || before.path !== after.path)
    return [before, after].flatMap((place) => (place ? [place.box] : []));
  const between = (p: number, q: number): readonly Box[] => {
    const box = boxAround(stretchOf(diagram, after.path, Math.min(p, q), Math.max(p, q)).flat());
    return box ? [box] : [];
  };
  return [...between(before.from, after.from), ...between(before.to, after.to)];
}

const isAt = (p: Point | null, q: Point | null, within: number): boolean =>
  p === q ||
  (p !== null && q !== null && Math.abs(p[0] - q[0]) <= within && Math.abs(p[1] - q[1]) <= within);

import { centredAt, contains, within } from './box.js';
import type { Box } from './box.js';
import { LabelField } from './label-field.js';
import type { Candidate } from './label-field.js';
import type { Point } from './line.js';

/** A train that wants its label on the picture, in screen pixels. */
export interface LabelRequest {
  readonly train: number;
  readonly width: number;
  readonly middle: Point;
  readonly head: Point;
  readonly tail: Point;
  /** Points along its band, so that others' labels keep off it where they can. */
  readonly band: readonly Point[];
}

export interface PlacedLabel {
  readonly train: number;
  readonly box: Box;
  /** Which candidate it is; given back next time, so that a label stays where it is while it can. */
  readonly choice: number;
  /** Whether the label stands so far off that a leader must show whose it is. */
  readonly away: boolean;
}

export const LABEL_HEIGHT = 18;
/** Free room around each label. */
const GAP = 2;
/** Covering another train's band is worse than covering track. */
const BAND_COST = 12;
/** Track under a label matters less than under a name: the pill has its own ground. */
const TRACK_WEIGHT = 0.15;
/** Labels out of sight help nobody. */
const OUT_OF_SIGHT = 80;
/** What staying in place is worth. */
const STAY = 6;
const RINGS = 14;

/**
 * Where each label may stand, best first: above, below, on its own band, before the head, behind the tail; then
 * ever farther rings, so that there is nearly always a free one.
 */
function candidatesOf({ width, middle, head, tail }: LabelRequest): readonly Candidate[] {
  const clear = LABEL_HEIGHT / 2 + 9;
  const at = ([x, y]: Point, dx: number, dy: number, cost: number): Candidate => ({
    box: centredAt([x + dx, y + dy], width + GAP, LABEL_HEIGHT + GAP),
    cost,
  });
  const aside = width / 2 + 8;
  const ahead = head[0] >= tail[0] ? aside : -aside;
  const near = [
    at(middle, 0, -clear, 0),
    at(middle, 0, clear, 1),
    at(middle, 0, 0, 3),
    at(between(middle, head), 0, 0, 4),
    at(between(middle, tail), 0, 0, 4),
    at(head, ahead, 0, 4),
    at(tail, -ahead, 0, 5),
    at(head, -ahead, -clear, 4),
    at(tail, ahead, -clear, 4),
    at(head, -ahead, clear, 5),
    at(tail, ahead, clear, 5),
  ];
  const rings = Array.from({ length: RINGS }, (_, ring) => {
    const dy = clear + (ring + 1) * 12;
    const cost = 8 + ring * 4;
    return [-1, 1].flatMap((side) =>
      [0, -1, 1].map((shift) => at(middle, shift * (aside + ring * 6), side * dy, cost + 1)),
    );
  });
  return [...near, ...rings.flat()];
}

const NEAR_CANDIDATES = 11;

const between = (p: Point, q: Point): Point => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];

/** What the labels are placed among. */
export interface LabelSurroundings {
  /** Names are never covered, track rather not. */
  readonly names: LabelField;
  /** Other marks that are never covered. */
  readonly kept: readonly Box[];
  /** The part of the drawing that is seen. */
  readonly sight: Box;
  /** What each train's label chose last time. */
  readonly choices: ReadonlyMap<number, number>;
}

/**
 * Places all labels, in the order of the requests. A label whose every candidate is taken stays away; its train is
 * still in the list and under the pointer.
 */
export function placeTrainLabels(
  requests: readonly LabelRequest[],
  { names, kept, sight, choices }: LabelSurroundings,
): readonly PlacedLabel[] {
  const field = new LabelField(names, TRACK_WEIGHT);
  for (const box of kept) field.block(box);
  for (const { band } of requests) for (const point of band) field.soften(point, BAND_COST);
  return requests.flatMap((request) => {
    const last = choices.get(request.train);
    const own = (box: Box): number =>
      request.band.filter((point) => contains(box, point)).length * BAND_COST;
    const candidates = candidatesOf(request).map(({ box, cost }, index) => ({
      box,
      cost: cost - own(box) - (index === last ? STAY : 0) + (within(box, sight) ? 0 : OUT_OF_SIGHT),
    }));
    const choice = field.place(candidates);
    const box = choice === null ? undefined : candidates[choice]?.box;
    if (choice === null || !box) return [];
    return [{ train: request.train, box, choice, away: choice >= NEAR_CANDIDATES }];
  });
}

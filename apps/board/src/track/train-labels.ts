import { centredAt } from './box.js';
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

export const LABEL_HEIGHT = 20;
/** Free room around each label. */
const GAP = 2;
/** Covering another train's band is worse than covering track. */
const BAND_COST = 12;
/** What staying in place is worth. */
const STAY = 8;
const RINGS = 14;

/**
 * Where each label may stand, best first: above, below, before the head, behind the tail; then ever farther
 * rings, so that there is always a free one.
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
    at(head, ahead, 0, 3),
    at(tail, -ahead, 0, 4),
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

const NEAR_CANDIDATES = 8;

/**
 * Places all labels, in the order of the requests. `choices`: what each train's label chose last time.
 * A label whose every candidate is taken stays away; its train is still in the list and under the pointer.
 */
export function placeTrainLabels(
  requests: readonly LabelRequest[],
  names: LabelField,
  choices: ReadonlyMap<number, number>,
): readonly PlacedLabel[] {
  const field = new LabelField(names);
  for (const { band } of requests) for (const point of band) field.soften(point, BAND_COST);
  return requests.flatMap((request) => {
    const last = choices.get(request.train);
    const candidates = candidatesOf(request).map((candidate, index) =>
      index === last ? { ...candidate, cost: candidate.cost - STAY } : candidate,
    );
    const choice = field.place(candidates);
    const box = choice === null ? undefined : candidates[choice]?.box;
    if (choice === null || !box) return [];
    return [{ train: request.train, box, choice, away: choice >= NEAR_CANDIDATES }];
  });
}

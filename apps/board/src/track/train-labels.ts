import { centredAt, contains, within } from './box.js';
import type { Box } from './box.js';
import { LabelField } from './label-field.js';
import type { Candidate } from './label-field.js';
import type { Point } from './line.js';

/** A train that wants its label on the picture, in screen pixels. */
export interface LabelRequest {
  readonly train: number;
  readonly width: number;
  /** Of the label with as few letters as still tell something. */
  readonly shortWidth: number;
  readonly middle: Point;
  readonly head: Point;
  readonly tail: Point;
  /** Points along its band, so that others' labels keep off it where they can. */
  readonly band: readonly Point[];
}

/** A label gives way by becoming shorter, then a mere mark that tells that there is one. */
export type LabelForm = 'full' | 'short' | 'mark';

export interface PlacedLabel {
  readonly train: number;
  readonly box: Box;
  readonly form: LabelForm;
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
const RINGS = 10;
/** Across a mark, pixels; marks find room farther off. */
export const MARK_SIZE = 14;
const MARK_RINGS = 24;

/**
 * Where each label may stand, best first: above, below, on its own band, before the head, behind the tail; then
 * ever farther rings, so that there is nearly always a free one.
 */
function candidatesOf(
  { middle, head, tail }: LabelRequest,
  { width, height, rings: count }: Size,
): readonly Candidate[] {
  const clear = height / 2 + 9;
  const at = ([x, y]: Point, dx: number, dy: number, cost: number): Candidate => ({
    box: centredAt([x + dx, y + dy], width + GAP, height + GAP),
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
  const rings = Array.from({ length: count }, (_, ring) => {
    const dy = clear + (ring + 1) * 12;
    const cost = 8 + ring * 4;
    return [-1, 1].flatMap((side) =>
      [0, -1, 1].map((shift) => at(middle, shift * (aside + ring * 6), side * dy, cost + 1)),
    );
  });
  return [...near, ...rings.flat()];
}

const NEAR_CANDIDATES = 11;
/** Candidates of one form are numbered from here times the form's number on. */
const PER_FORM = 1000;

interface Size {
  readonly width: number;
  readonly height: number;
  readonly rings: number;
}

const FORMS: readonly { form: LabelForm; sizeFor: (request: LabelRequest) => Size }[] = [
  {
    form: 'full',
    sizeFor: ({ width }) => ({ width, height: LABEL_HEIGHT, rings: RINGS }),
  },
  {
    form: 'short',
    sizeFor: ({ shortWidth }) => ({ width: shortWidth, height: LABEL_HEIGHT, rings: RINGS }),
  },
  {
    form: 'mark',
    sizeFor: () => ({ width: MARK_SIZE, height: MARK_SIZE, rings: MARK_RINGS }),
  },
];

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
  /** Whether a label looks for a better place than it has; the others only leave one that is taken. Default: all do. */
  readonly looks?: (train: number) => boolean;
}

/**
 * Places all labels, in the order of the requests, each in the longest form for which a place is free. Only where not
 * even a mark finds one within some hundred pixels is a train without; it is still in the list and under the pointer.
 */
export function placeTrainLabels(
  requests: readonly LabelRequest[],
  { names, kept, sight, choices, looks }: LabelSurroundings,
): readonly PlacedLabel[] {
  const field = new LabelField(names, TRACK_WEIGHT);
  for (const box of kept) field.block(box);
  for (const { band } of requests) for (const point of band) field.soften(point, BAND_COST);
  return requests.flatMap((request): readonly PlacedLabel[] => {
    const { train } = request;
    const last = choices.get(train);
    if (last !== undefined && looks?.(train) === false) {
      const was = FORMS[Math.floor(last / PER_FORM)];
      const box = was && candidatesOf(request, was.sizeFor(request))[last % PER_FORM]?.box;
      if (was && box && within(box, sight) && field.isFree(box)) {
        field.block(box);
        return [placed(train, box, was.form, last)];
      }
    }
    for (const [number, { form, sizeFor }] of FORMS.entries()) {
      const candidates = candidatesOf(request, sizeFor(request)).map(({ box, cost }, index) => {
        const own = request.band.filter((point) => contains(box, point)).length * BAND_COST;
        const stay = index + number * PER_FORM === last ? STAY : 0;
        return { box, cost: cost - own - stay + (within(box, sight) ? 0 : OUT_OF_SIGHT) };
      });
      const choice = field.place(candidates);
      const box = choice === null ? undefined : candidates[choice]?.box;
      if (choice !== null && box) return [placed(train, box, form, choice + number * PER_FORM)];
    }
    return [];
  });
}

const placed = (train: number, box: Box, form: LabelForm, choice: number): PlacedLabel => ({
  train,
  box,
  form,
  choice,
  away: choice % PER_FORM >= NEAR_CANDIDATES,
});

/** The text with as many letters as fit into `most` pixels, and "…" for the others. */
export function elided(text: string, most: number, widthOf: (text: string) => number): string {
  if (widthOf(text) <= most) return text;
  const letters = [...text];
  for (let count = letters.length - 1; count > 1; count -= 1) {
    const shorter = `${letters.slice(0, count).join('').trimEnd()}…`;
    if (widthOf(shorter) <= most) return shorter;
  }
  return `${letters[0] ?? ''}…`;
}

import { centredAt, contains, within } from './box.js';
import type { Box } from './box.js';
import { LabelField, NOWHERE } from './label-field.js';
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
/** What staying in place is worth. */
const STAY = 6;
/** A label farther off than so many rings says less than a mark close by. */
const RINGS = 8;
/** Across a mark, pixels; marks find room farther off. */
export const MARK_SIZE = 14;
const MARK_RINGS = 24;

/** A place beside a train: a point of it, and how far from it the label's middle is. */
type Aside = (
  request: LabelRequest,
  clear: number,
  aside: number,
) => readonly [Point, number, number];

/** `aside` away from the train: positive where its head is to the right. */
const ahead = ({ head, tail }: LabelRequest, aside: number): number =>
  head[0] >= tail[0] ? aside : -aside;

/** Where each label may stand, best first, with its cost: above, below, on its own band, before the head, behind the tail. */
const NEAR: readonly (readonly [cost: number, place: Aside])[] = [
  [0, ({ middle }, clear) => [middle, 0, -clear]],
  [1, ({ middle }, clear) => [middle, 0, clear]],
  [3, ({ middle }) => [middle, 0, 0]],
  [4, ({ middle, head }) => [between(middle, head), 0, 0]],
  [4, ({ middle, tail }) => [between(middle, tail), 0, 0]],
  [4, (train, _clear, aside) => [train.head, ahead(train, aside), 0]],
  [5, (train, _clear, aside) => [train.tail, -ahead(train, aside), 0]],
  [4, (train, clear, aside) => [train.head, -ahead(train, aside), -clear]],
  [4, (train, clear, aside) => [train.tail, ahead(train, aside), -clear]],
  [5, (train, clear, aside) => [train.head, -ahead(train, aside), clear]],
  [5, (train, clear, aside) => [train.tail, ahead(train, aside), clear]],
];
const PER_RING = 6;
const RING_SIDES = [-1, 1];
const RING_SHIFTS = [0, -1, 1];

/** One of a label's places: those near it, then ever farther rings, then, without end, squares around the train. */
function candidateAt(
  request: LabelRequest,
  { width, height, rings }: Size,
  index: number,
): Candidate {
  const clear = height / 2 + 9;
  const aside = width / 2 + 8;
  const at = ([x, y]: Point, dx: number, dy: number, cost: number): Candidate => ({
    box: centredAt([x + dx, y + dy], width + GAP, height + GAP),
    cost,
  });
  const near = NEAR[index];
  if (near) {
    const [cost, place] = near;
    return at(...place(request, clear, aside), cost);
  }
  const outer = index - NEAR.length;
  const ring = Math.floor(outer / PER_RING);
  if (ring < rings) {
    const side = RING_SIDES[Math.floor((outer % PER_RING) / RING_SHIFTS.length)] ?? 1;
    const shift = RING_SHIFTS[outer % RING_SHIFTS.length] ?? 0;
    return at(
      request.middle,
      shift * (aside + ring * 6),
      side * (clear + (ring + 1) * 12),
      9 + ring * 4,
    );
  }
  const [dx, dy] = aroundSquares(outer - rings * PER_RING);
  return at(request.middle, dx * (width + GAP), dy * (height + GAP), 0);
}

/** The places around a middle, square by square outwards: 8 of the first, 16 of the second and so on. */
function aroundSquares(index: number): Point {
  const square = Math.floor((1 + Math.sqrt(1 + index)) / 2);
  const along = index - 4 * square * (square - 1);
  const step = along % (2 * square);
  const side = Math.floor(along / (2 * square));
  if (side === 0) return [step - square, -square];
  if (side === 1) return [square, step - square];
  return side === 2 ? [square - step, square] : [-square, square - step];
}

const placesOf = ({ rings }: Size): number => NEAR.length + rings * PER_RING;

/** Candidates of one form are numbered from here times the form's number on. */
const PER_FORM = 1_000_000;

interface Size {
  readonly width: number;
  readonly height: number;
  readonly rings: number;
}

interface Form {
  readonly form: LabelForm;
  readonly sizeFor: (request: LabelRequest) => Size;
}

const MARK: Form = {
  form: 'mark',
  sizeFor: () => ({ width: MARK_SIZE, height: MARK_SIZE, rings: MARK_RINGS }),
};

const FORMS: readonly Form[] = [
  {
    form: 'full',
    sizeFor: ({ width }) => ({ width, height: LABEL_HEIGHT, rings: RINGS }),
  },
  {
    form: 'short',
    sizeFor: ({ shortWidth }) => ({ width: shortWidth, height: LABEL_HEIGHT, rings: RINGS }),
  },
  MARK,
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
 * Places all labels, in the order of the requests, each in the longest form for which a place is free; none is left out.
 * A mark goes as far as it must: anywhere in sight, and only where sight is full of labels, out of it.
 */
export function placeTrainLabels(
  requests: readonly LabelRequest[],
  { names, kept, sight, choices, looks }: LabelSurroundings,
): readonly PlacedLabel[] {
  const field = new LabelField(groundOf(names, kept), TRACK_WEIGHT);
  let bandsKnown = false;
  const best = (request: LabelRequest, last: number | undefined): PlacedLabel => {
    // Only who looks for a place asks what lies under it.
    if (!bandsKnown)
      for (const { band } of requests) for (const point of band) field.soften(point, BAND_COST);
    bandsKnown = true;
    return placeBest(request, last, field, sight) ?? placeFar(request, field, sight);
  };
  return requests.map((request): PlacedLabel => {
    const { train } = request;
    const last = choices.get(train);
    const stays = last !== undefined && looks?.(train) === false;
    return (stays ? placeAgain(request, last, field, sight) : null) ?? best(request, last);
  });
}

const grounds = new WeakMap<
  readonly Box[],
  { readonly names: LabelField; readonly field: LabelField }
>();

/** Names and what is kept clear of beside them: the same for picture after picture. */
function groundOf(names: LabelField, kept: readonly Box[]): LabelField {
  const known = grounds.get(kept);
  if (known?.names === names) return known.field;
  const field = new LabelField(names);
  for (const box of kept) field.block(box);
  grounds.set(kept, { names, field });
  return field;
}

/** Where it was, if that is still free. */
function placeAgain(
  request: LabelRequest,
  last: number,
  field: LabelField,
  sight: Box,
): PlacedLabel | null {
  const was = FORMS[Math.floor(last / PER_FORM)];
  if (!was) return null;
  const { box } = candidateAt(request, was.sizeFor(request), last % PER_FORM);
  if (!within(box, sight) || !field.isFree(box)) return null;
  field.block(box);
  return placed(request.train, box, was.form, last);
}

function placeBest(
  request: LabelRequest,
  last: number | undefined,
  field: LabelField,
  sight: Box,
): PlacedLabel | null {
  for (const [number, { form, sizeFor }] of FORMS.entries()) {
    const choice = cheapest(
      request,
      sizeFor(request),
      (last ?? -1) - number * PER_FORM,
      field,
      sight,
    );
    if (choice === null) continue;
    const { box } = candidateAt(request, sizeFor(request), choice);
    field.block(box);
    return placed(request.train, box, form, choice + number * PER_FORM);
  }
  return null;
}

/** The free place of this size that costs least, the first of equals; `last` is worth staying at. */
function cheapest(
  request: LabelRequest,
  size: Size,
  last: number,
  field: LabelField,
  sight: Box,
): number | null {
  return field.cheapest(
    placesOf(size),
    (index) => {
      const candidate = candidateAt(request, size, index);
      // A label out of sight helps nobody.
      if (!within(candidate.box, sight)) return NOWHERE;
      return index === last ? { ...candidate, cost: candidate.cost - STAY } : candidate;
    },
    (box) => request.band.filter((point) => contains(box, point)).length * BAND_COST,
  );
}

/** A mark at the nearest free place of all. */
function placeFar(request: LabelRequest, field: LabelField, sight: Box): PlacedLabel {
  const number = FORMS.length - 1;
  const size = MARK.sizeFor(request);
  const first = placesOf(size);
  const squares = Math.ceil(Math.max(sight.width, sight.height) / size.height);
  const inSight = 4 * squares * (squares + 1);
  for (let index = 0; ; index += 1) {
    // The first round looks in sight only.
    const place = first + (index < inSight ? index : index - inSight);
    const { box } = candidateAt(request, size, place);
    if ((index < inSight && !within(box, sight)) || !field.isFree(box)) continue;
    field.block(box);
    return placed(request.train, box, MARK.form, place + number * PER_FORM);
  }
}

const placed = (train: number, box: Box, form: LabelForm, choice: number): PlacedLabel => ({
  train,
  box,
  form,
  choice,
  away: choice % PER_FORM >= NEAR.length,
});

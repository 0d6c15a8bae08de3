import type { TrainView } from '@blockbell/contract/messages';
import type { Selection } from '../shared/selection.svelte.js';
import { contains } from './box.js';
import type { Box } from './box.js';
import type { Inks } from './inks.svelte.js';
import type { Point } from './line.js';
import { MovingTrains } from './moving-trains.js';
import type { TrainPlace } from './moving-trains.js';
import { scaled } from './name-labels.js';
import { textWidth } from './track-map.svelte.js';
import type { TrackMap } from './track-map.svelte.js';
import { elided, placeTrainLabels } from './train-labels.js';
import type { LabelForm, LabelRequest, PlacedLabel } from './train-labels.js';
import type { TrainPainter } from './train-painter.js';
import type { Leader } from './train-painter.js';

/** A label that is to be there; where it stands is told to its element directly, with every picture. */
export interface ShownLabel {
  readonly train: number;
  readonly form: LabelForm;
  readonly text: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
}

/** What stands on a train's label in each of its forms, and how wide that is, pixels. */
interface LabelTexts extends Readonly<Record<LabelForm, string>> {
  readonly fullWidth: number;
  readonly shortWidth: number;
}

/** Room for the mark before the text and the ends of the pill, pixels. */
const AROUND_TEXT = 32;
/** Longer texts lose their last letters, pixels; and so they do where room is scarce. */
const LONGEST = 130;
const SHORTEST = 34;
/** In how many pictures every label has looked for a better place once: one of 60 trains in every fourth picture. */
const ROUNDS = 240;
/** Spreads trains over the rounds. */
const STEP = 4;
/** Free room that is part of a label's box, pixels on each side. */
const INSET = 1;

const widthOf = (text: string): number => textWidth(text, 'train');

/** The trains on the track picture: bands and leaders on a canvas, labels as elements that are moved along. */
export class TrainScene {
  /** Replaced only when another train has a label, or one of another form. */
  shown = $state.raw<readonly ShownLabel[]>([]);
  readonly #elements = new Map<number, HTMLElement>();
  /** Where each element was moved to: to ask the element itself costs more than to move it. */
  readonly #movedTo = new Map<HTMLElement, Point>();
  readonly #movers = new Map<number, (element: HTMLElement) => () => void>();
  readonly #moving: MovingTrains;
  readonly #texts: readonly LabelTexts[];
  readonly #requests = new WeakMap<
    TrainPlace,
    { readonly view: string; readonly requests: readonly LabelRequest[] }
  >();
  #placed: readonly PlacedLabel[] = [];
  #leaders: readonly Leader[] = [];
  #choices = new Map<number, number>();
  #round = 0;
  /** What the labels were placed for. */
  #field: unknown = null;
  #kept: unknown = null;
  #view = '';
  /** Whether trains have moved since labels were placed. */
  #moved = false;

  /** `labels`: of all trains, by their number. */
  constructor(
    readonly map: TrackMap,
    labels: readonly string[],
  ) {
    this.#moving = new MovingTrains(map.diagram);
    this.#texts = labels.map((label) => {
      const [full, short] = [LONGEST, SHORTEST].map((most) => elided(label, most, widthOf));
      return textsOf(full ?? '', short ?? '');
    });
  }

  /** Brings trains to a moment (physical ms). */
  follow(rows: Iterable<TrainView>, now: number): void {
    if (this.#moving.follow(rows, now, this.map.view.scale)) this.#moved = true;
  }

  /** Brings labels to where the trains are. `kept`: marks that no label may cover. True when leaders may be others. */
  followLabels(kept: readonly Box[]): boolean {
    const { map } = this;
    const { scale, offsetX, offsetY, width, height } = map.view;
    const moved = this.#moved;
    this.#moved = false;
    const view = `${scale} ${offsetX} ${offsetY} ${width} ${height}`;
    if (!moved && view === this.#view && map.field === this.#field && kept === this.#kept)
      return false;
    // Other names, other places: nothing is worth staying for.
    if (map.field !== this.#field) this.#choices.clear();
    this.#view = view;
    this.#field = map.field;
    this.#kept = kept;
    const ledBefore = this.#leaders.length > 0;
    this.#placeLabels(kept);
    return ledBefore || this.#leaders.length > 0;
  }

  /** Paints what was followed. */
  paint(painter: TrainPainter, inks: Inks, selection: Selection): void {
    const { view, bandWidth } = this.map;
    const { places } = this.#moving;
    painter.paint({ places, leaders: this.#leaders, sight: view, bandWidth, inks, selection });
  }

  /** Put on the element of a train's label, moves it along until it is taken off; the same each time. */
  mover(train: number): (element: HTMLElement) => () => void {
    const known = this.#movers.get(train);
    if (known) return known;
    const mover = (element: HTMLElement): (() => void) => this.#attach(train, element);
    this.#movers.set(train, mover);
    return mover;
  }

  #attach(train: number, element: HTMLElement): () => void {
    this.#elements.set(train, element);
    const label = this.#placed.find((one) => one.train === train);
    if (label) this.#move(label);
    return () => {
      if (this.#elements.get(train) === element) this.#elements.delete(train);
      this.#movedTo.delete(element);
    };
  }

  #placeLabels(kept: readonly Box[]): void {
    const { map } = this;
    const requests = [...this.#moving.places.values()].flatMap((place) => this.#requestOf(place));
    const round = this.#round;
    this.#placed = placeTrainLabels(requests, {
      names: map.field,
      kept,
      sight: map.viewport.sight,
      choices: this.#choices,
      looks: (train) => (train * STEP) % ROUNDS === round % ROUNDS,
    });
    this.#round += 1;
    this.#choices = new Map(this.#placed.map(({ train, choice }) => [train, choice]));
    this.#leaders = this.#placed.flatMap((label, index) =>
      label.away ? leaderOf(label, requests[index], map.scale) : [],
    );
    for (const label of this.#placed) this.#move(label);
    this.#showChanged();
  }

  /** None for a train that is out of sight. The same while neither train nor view moves. */
  #requestOf(place: TrainPlace): readonly LabelRequest[] {
    const known = this.#requests.get(place);
    if (known?.view === this.#view) return known.requests;
    const requests = this.#requestIn(place);
    this.#requests.set(place, { view: this.#view, requests });
    return requests;
  }

  #requestIn({ train, head, tail, spots }: TrainPlace): readonly LabelRequest[] {
    const { scale, viewport } = this.map;
    const { sight } = viewport;
    const band = spots.map((point) => scaled(point, scale));
    const seen = band.filter((point) => contains(sight, point));
    const middle = seen[Math.floor(seen.length / 2)];
    if (!middle) return [];
    const { fullWidth, shortWidth } = this.#texts[train] ?? NO_TEXT;
    return [
      {
        train,
        width: fullWidth,
        shortWidth,
        middle,
        head: head ? scaled(head, scale) : middle,
        tail: tail ? scaled(tail, scale) : middle,
        band,
      },
    ];
  }

  #move({ train, box }: PlacedLabel): void {
    const element = this.#elements.get(train);
    if (!element) return;
    const { offsetX, offsetY } = this.map.viewport;
    // Whole pixels keep the letters sharp, and what moves by less costs nothing.
    const [x, y] = [Math.round(box.x + offsetX + INSET), Math.round(box.y + offsetY + INSET)];
    const was = this.#movedTo.get(element);
    if (was?.[0] === x && was[1] === y) return;
    this.#movedTo.set(element, [x, y]);
    element.style.transform = `translate(${x}px, ${y}px)`;
  }

  #showChanged(): void {
    const before = this.shown;
    const same =
      before.length === this.#placed.length &&
      this.#placed.every(
        ({ train, form }, index) => before[index]?.train === train && before[index].form === form,
      );
    if (same) return;
    this.shown = this.#placed.map(({ train, form, box }) => ({
      train,
      form,
      text: this.#texts[train]?.[form] ?? '',
      width: box.width - 2 * INSET,
      height: box.height - 2 * INSET,
    }));
  }
}

const textsOf = (full: string, short: string): LabelTexts => ({
  full,
  short,
  mark: '…',
  fullWidth: widthOf(full) + AROUND_TEXT,
  shortWidth: widthOf(short) + AROUND_TEXT,
});

const NO_TEXT = textsOf('', '');

const leaderOf = (
  { train, box }: PlacedLabel,
  request: LabelRequest | undefined,
  scale: number,
): readonly Leader[] =>
  request
    ? [
        {
          train,
          from: scaled(request.middle, 1 / scale),
          to: [(box.x + box.width / 2) / scale, (box.y + box.height / 2) / scale],
        },
      ]
    : [];

import type { TrainView } from '@blockbell/contract/messages';
import type { Selection } from '../shared/selection.svelte.js';
import { contains, grown } from './box.js';
import type { Box } from './box.js';
import type { Inks } from './inks.svelte.js';
import { LabelMovers } from './label-movers.js';
import type { Point } from './line.js';
import { MovingTrains } from './moving-trains.js';
import type { TrainPlace } from './moving-trains.js';
import { scaled } from './name-labels.js';
import { shortened } from './shorten.js';
import { textWidth } from './track-map.svelte.js';
import type { TrackMap } from './track-map.svelte.js';
import { placeTrainLabels } from './train-labels.js';
import type { LabelForm, LabelRequest, PlacedLabel } from './train-labels.js';
import type { TrainPainter } from './train-painter.js';

/** A label that is to be there; where it stands is told to its element directly, with every picture. */
export interface ShownLabel {
  readonly train: number;
  readonly form: LabelForm;
  readonly text: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  /** Where its train is, whole pixels from the label's corner, when it stands so far off that a line must show whose it is. */
  readonly leader: Point | null;
}

/** What stands on a train's label in each of its forms, and how wide that is, pixels. */
interface LabelTexts extends Readonly<Record<LabelForm, string>> {
  readonly fullWidth: number;
  readonly shortWidth: number;
}

/** Room for the mark before the text and the ends of the pill, pixels. */
const AROUND_TEXT = 32;
/** Longer texts lose letters, pixels; and so they do where room is scarce. */
const LONGEST = 130;
const SHORTEST = 34;
/** In how many pictures every label has looked for a better place once: one of 60 trains in every fourth picture. */
const ROUNDS = 240;
/** Spreads trains over the rounds. */
const STEP = 4;
/** Labels that are so far from where they should be are seen to be, pixels. */
const SEEN = 1;
/** Free room that is part of a label's box, pixels on each side. */
const INSET = 1;

const widthOf = (text: string): number => textWidth(text, 'train');

/** The trains on the track picture: bands on a canvas, labels and the lines to them as elements that are moved along. */
export class TrainScene {
  /** Replaced only when another train has a label, or one of another form or with another line to it. */
  shown = $state.raw<readonly ShownLabel[]>([]);
  readonly #movers = new LabelMovers();
  readonly #moving: MovingTrains;
  readonly #texts: readonly LabelTexts[];
  readonly #requests = new WeakMap<
    TrainPlace,
    { readonly view: string; readonly requests: readonly LabelRequest[] }
  >();
  /** Of the labels that were placed, in their order. */
  #asked: readonly LabelRequest[] = [];
  #placed: readonly PlacedLabel[] = [];
  /** The places that labels were put at. */
  #put: readonly PlacedLabel[] = [];
  #choices = new Map<number, number>();
  #round = 0;
  /** What the labels were placed for. */
  #field: unknown = null;
  #kept: unknown = null;
  #view = '';
  /** Whether trains have moved since labels were placed. */
  #moved = false;
  /** Where trains were then. */
  #labelled: ReadonlyMap<number, TrainPlace> = new Map();

  /** `labels`: of all trains, by their number. */
  constructor(
    readonly map: TrackMap,
    labels: readonly string[],
  ) {
    this.#moving = new MovingTrains(map.diagram);
    this.#texts = labels.map((label) => {
      const [full, short] = [LONGEST, SHORTEST].map((most) => shortened(label, most, widthOf));
      return textsOf(full ?? '', short ?? '');
    });
  }

  /** Brings trains to a moment (physical ms). */
  follow(rows: Iterable<TrainView>, now: number): void {
    const { view, viewport } = this.map;
    const { scale } = view;
    const { x, y, width, height } = viewport.sight;
    const seen = { x: x / scale, y: y / scale, width: width / scale, height: height / scale };
    if (this.#moving.follow(rows, now, scale, seen)) this.#moved = true;
  }

  /** Whether a label is seen not to be where its train is. */
  get labelsAreOff(): boolean {
    const { scale } = this.map.view;
    if (this.#labelled === this.#moving.places) return false;
    for (const [train, { head }] of this.#moving.places)
      if (isApart(head, this.#labelled.get(train)?.head ?? null, SEEN / scale)) return true;
    return false;
  }

  /** Finds places for labels where the trains are. `kept`: marks that no label may cover. False: they have the places they had. */
  placeLabels(kept: readonly Box[]): boolean {
    const { map } = this;
    const { scale, offsetX, offsetY, width, height } = map.view;
    const moved = this.#moved;
    this.#moved = false;
    const view = `${scale} ${offsetX} ${offsetY} ${width} ${height}`;
    if (!moved && view === this.#view && map.field === this.#field && kept === this.#kept)
      return false;
    // Other names, other places: nothing is worth staying for.
    if (map.field !== this.#field) this.#choices.clear();
    this.#labelled = this.#moving.places;
    this.#view = view;
    this.#field = map.field;
    this.#kept = kept;
    this.#findPlaces(kept);
    return true;
  }

  /** Puts labels at the places that were found last. */
  putLabels(): void {
    if (this.#put === this.#placed) return;
    this.#put = this.#placed;
    for (const label of this.#placed) this.#move(label);
    this.#showChanged();
  }

  /** Paints the trains that were followed. */
  paint(painter: TrainPainter, inks: Inks, selection: Selection): void {
    const { view, bandWidth } = this.map;
    const { places } = this.#moving;
    painter.paint({ places, sight: view, bandWidth, inks, selection });
  }

  /** Put on an element of a train's label, moves it along until it is taken off; the same each time. */
  mover(train: number): ReturnType<LabelMovers['mover']> {
    return this.#movers.mover(train);
  }

  #findPlaces(kept: readonly Box[]): void {
    const { map } = this;
    this.#asked = [...this.#moving.places.values()].flatMap((place) => this.#requestOf(place));
    const round = this.#round;
    this.#placed = placeTrainLabels(this.#asked, {
      names: map.field,
      kept,
      sight: map.viewport.sight,
      choices: this.#choices,
      looks: (train) => (train * STEP) % ROUNDS === round % ROUNDS,
    });
    this.#round += 1;
    this.#choices = new Map(this.#placed.map(({ train, choice }) => [train, choice]));
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
    const { offsetX, offsetY } = this.map.viewport;
    this.#movers.move(train, [box.x + offsetX + INSET, box.y + offsetY + INSET]);
  }

  #showChanged(): void {
    const before = this.shown;
    const shown = this.#placed.map((label, index) => {
      const was = before[index];
      const is = this.#shownAs(label, this.#asked[index]);
      return was && sameLabel(was, is) ? was : is;
    });
    if (shown.length !== before.length || shown.some((label, index) => label !== before[index]))
      this.shown = shown;
  }

  #shownAs({ train, form, box, away }: PlacedLabel, request: LabelRequest | undefined): ShownLabel {
    const { x, y, width, height } = grown(box, -INSET);
    const leader = away && request ? request.middle : null;
    return {
      train,
      form,
      text: this.#texts[train]?.[form] ?? '',
      width,
      height,
      leader: leader && [Math.round(leader[0] - x), Math.round(leader[1] - y)],
    };
  }
}

const isApart = (p: Point | null, q: Point | null, far: number): boolean =>
  p !== q &&
  (p === null || q === null || Math.abs(p[0] - q[0]) >= far || Math.abs(p[1] - q[1]) >= far);

const sameLabel = (p: ShownLabel, q: ShownLabel): boolean =>
  p.train === q.train &&
  p.form === q.form &&
  p.leader?.[0] === q.leader?.[0] &&
  p.leader?.[1] === q.leader?.[1];

const textsOf = (full: string, short: string): LabelTexts => ({
  full,
  short,
  mark: '…',
  fullWidth: widthOf(full) + AROUND_TEXT,
  shortWidth: widthOf(short) + AROUND_TEXT,
});

const NO_TEXT = textsOf('', '');

import { buriedOf, overlap } from './in-the-way.js';
import { kindsOfTracks } from './like-tracks.js';
import { orderOfComing } from './order-of-coming.js';
import { mostTaken, type Taken } from './room.js';
import type { Berth, Stay, Yard } from './yard.js';

/** What a stay without a track weighs beside one that is buried: more than all burials together. */
const LEFT_OUT = 10_000;
/** What an allocation is judged by; less is better, `harm` first. */
interface Worth {
  readonly harm: number;
  readonly cost: number;
}

const isLess = (one: Worth, other: Worth): boolean =>
  one.harm < other.harm || (one.harm === other.harm && one.cost < other.cost);

/** Berths looked at for a lower cost at most, once nobody is buried, as a share of all that may be looked at. */
const POLISH = 0.1;

/**
 * Depth first, the stay with the fewest tracks left first (as in colouring graphs: D. Brélaz, New methods to color the
 * vertices of a graph, Comm. ACM 22, 1979), the best berth first. A branch is left where what it costs at least (the
 * burials so far, and for every stay still to be placed those of its best berth) is no better than the best found. What a
 * placed stay means for the berths of others is kept up as stays are placed and taken out again.
 */
export class AllocationSearch {
  /** Berths looked at. */
  looked = 0;
  readonly #stays: readonly Stay[];
  readonly #kinds: readonly string[];
  /** By stay: its place in the order of coming. */
  readonly #rank: readonly number[];
  /** By stay: the berth chosen; −1: none yet; null: left out. */
  readonly #chosen: (number | null)[];
  readonly #members: number[][];
  /** By stay and berth: burials with those placed in its track; and whether there is room beside them. */
  readonly #clashes: number[][];
  readonly #fits: boolean[][];
  readonly #patience: number;
  readonly #size: number;
  #limit: number;
  #best: (number | null)[];
  #bestWorth: Worth = { harm: Infinity, cost: Infinity };
  #brokenOff = false;

  constructor(
    private readonly yard: Yard,
    patience: number,
  ) {
    const { stays, tracks } = yard;
    this.#stays = stays;
    this.#kinds = kindsOfTracks(yard);
    const rank = stays.map(() => 0);
    orderOfComing(stays).forEach((stay, place) => (rank[stay] = place));
    this.#rank = rank;
    this.#chosen = stays.map(() => -1);
    this.#members = tracks.map(() => []);
    this.#clashes = stays.map(({ berths }) => berths.map(() => 0));
    this.#fits = stays.map(({ berths }) =>
      berths.map(({ track, needs }) => needs <= tracks[track]!.room),
    );
    this.#size = stays.reduce((sum, { berths }) => sum + berths.length, 1);
    this.#patience = patience;
    this.#limit = patience;
    this.#best = stays.map(() => null);
  }

  /** Whether nothing less harmful exists. */
  get isProven(): boolean {
    return !this.#brokenOff || this.#bestWorth.harm === 0;
  }

  run(): readonly (number | null)[] {
    this.#place({ harm: 0, cost: 0 }, this.#stays.length);
    return this.#best;
  }

  #place(worth: Worth, left: number): void {
    if (left === 0) {
      this.#best = [...this.#chosen];
      this.#bestWorth = worth;
      if (worth.harm === 0) {
        this.#limit = Math.min(this.#patience, this.looked + this.#patience * POLISH);
      }
      return;
    }
    this.looked += this.#size;
    const stay = this.#nextStay();
    if (!isLess(this.#bound(worth), this.#bestWorth)) return;
    for (const index of this.#choices(stay)) {
      if (this.looked >= this.#limit && this.#bestWorth.harm < Infinity) {
        this.#brokenOff = true;
        return;
      }
      this.#tryBerth(worth, left, stay, index);
    }
    this.#chosen[stay] = null;
    const without = { harm: worth.harm + LEFT_OUT, cost: worth.cost };
    if (isLess(without, this.#bestWorth)) this.#place(without, left - 1);
    this.#chosen[stay] = -1;
  }

  #tryBerth(worth: Worth, left: number, stay: number, index: number): void {
    const berth = this.#stays[stay]!.berths[index]!;
    const next = {
      harm: worth.harm + this.#clashes[stay]![index]!,
      cost: worth.cost + berth.cost,
    };
    if (!isLess(next, this.#bestWorth)) return;
    this.#chosen[stay] = index;
    this.#members[berth.track]!.push(stay);
    const undo = this.#tell(stay, berth);
    this.#place(next, left - 1);
    undo();
    this.#members[berth.track]!.pop();
    this.#chosen[stay] = -1;
  }

  /** What everything costs at least from here on. Room only gets less: a stay that fits nowhere now is left out. */
  #bound({ harm, cost }: Worth): Worth {
    let least = harm;
    let cheapest = cost;
    this.#stays.forEach(({ berths }, stay) => {
      if (this.#chosen[stay] !== -1) return;
      let fewest = LEFT_OUT;
      let cheap = Infinity;
      for (let index = 0; index < berths.length; index++) {
        if (!this.#fits[stay]![index]!) continue;
        fewest = Math.min(fewest, this.#clashes[stay]![index]!);
        cheap = Math.min(cheap, berths[index]!.cost);
      }
      least += fewest;
      if (cheap < Infinity) cheapest += cheap;
    });
    return { harm: least, cost: cheapest };
  }

  /** The stay that is hardest to place: the fewest berths without a burial and with room; of those, the first to come. */
  #nextStay(): number {
    let next = -1;
    let fewest = Infinity;
    this.#stays.forEach(({ berths }, stay) => {
      if (this.#chosen[stay] !== -1) return;
      let free = 0;
      for (let index = 0; index < berths.length; index++) {
        if (this.#fits[stay]![index]! && this.#clashes[stay]![index] === 0) free++;
      }
      if (free < fewest || (free === fewest && this.#rank[stay]! < this.#rank[next]!)) {
        next = stay;
        fewest = free;
      }
    });
    return next;
  }

  /** Berths to try, the best first; of empty tracks that are alike only one. */
  #choices(stay: number): number[] {
    const { berths } = this.#stays[stay]!;
    const clashes = this.#clashes[stay]!;
    const seen = new Set<string>();
    return berths
      .map((_, index) => index)
      .filter((index) => this.#fits[stay]![index]!)
      .sort(
        (a, b) =>
          clashes[a]! - clashes[b]! ||
          berths[a]!.cost - berths[b]!.cost ||
          this.#spare(berths[a]!) - this.#spare(berths[b]!) ||
          a - b,
      )
      .filter((index) => {
        const { track, in: entry, out } = berths[index]!;
        if (this.#members[track]!.length > 0) return true;
        const kind = `${entry}${out}${this.#kinds[track]!}`;
        if (seen.has(kind)) return false;
        seen.add(kind);
        return true;
      });
  }

  /** Tracks in use are filled before empty ones are begun; short ones before long ones. */
  #spare({ track, needs }: Berth): number {
    const empty = this.#members[track]!.length === 0 ? 1e9 : 0;
    return empty + this.yard.tracks[track]!.room - needs;
  }

  /** Tells the berths of all that may still come into its track of a stay that was placed there; returns how to take that back. */
  #tell(placed: number, berth: Berth): () => void {
    const own = { stay: this.#stays[placed]!, berth };
    const taken = this.#members[berth.track]!.map((member): Taken => ({
      stay: this.#stays[member]!,
      needs: this.#stays[member]!.berths[this.#chosen[member]!]!.needs,
    }));
    const { room } = this.yard.tracks[berth.track]!;
    const clashed: [number, number][] = [];
    const filled: [number, number][] = [];
    this.#stays.forEach((stay, other) => {
      if (this.#chosen[other] !== -1 || !overlap(stay, own.stay)) return;
      stay.berths.forEach((its, index) => {
        if (its.track !== berth.track) return;
        const comesFirst = this.#rank[other]! < this.#rank[placed]!;
        const theirs = { stay, berth: its };
        const buried = comesFirst ? buriedOf(theirs, own) : buriedOf(own, theirs);
        if (buried !== null) {
          this.#clashes[other]![index]!++;
          clashed.push([other, index]);
        }
        if (this.#fits[other]![index]! && mostTaken(taken, { stay, needs: its.needs }) > room) {
          this.#fits[other]![index] = false;
          filled.push([other, index]);
        }
      });
    });
    return () => {
      for (const [other, index] of clashed) this.#clashes[other]![index]!--;
      for (const [other, index] of filled) this.#fits[other]![index] = true;
    };
  }
}

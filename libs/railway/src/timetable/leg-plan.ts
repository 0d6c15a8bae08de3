import {
  blockOf,
  headingOf,
  opposite,
  type ElementIndex,
  type Heading,
  type RouteIndex,
} from '../layout/layout.js';
import { standingRoom } from '../layout/standing-room.js';
import type { Train } from '../stock/train.js';
import type { DistanceTables } from './distance-tables.js';
import type { Stop } from './working-stops.js';

/** A heading at which a train may end a leg. */
interface Target {
  /** Place of its track in the order of preference. */
  readonly rank: number;
  /** Whether the train may also draw up into a slot of the same track further on. */
  readonly mayDrawUp: boolean;
}

/**
 * Which ways lead from anywhere to a train's next stop. A route is permitted if it brings the train strictly nearer: outside
 * the stop's tracks to the first slot of any of them, in a track to its end. So no way goes round in circles, and parallel
 * tracks are all open, however deep each is. Targets are headings in the stop's tracks where the
 * train fits and from which it can run the rest of its working.
 */
export class LegPlan {
  readonly #tables: DistanceTables;
  readonly #train: Train;
  readonly #stop: Stop;
  readonly #next: LegPlan | null;
  readonly #targets = new Map<Heading, Target>();
  readonly #distances: Float64Array;
  /** By heading: mm from its end to the end of the nearest target, which may be one with slots further on. */
  readonly #approach: Float64Array;
  readonly #permitted = new Map<Heading, readonly RouteIndex[]>();
  readonly #ranks = new Map<Heading, number>();
  readonly #hops = new Map<Heading, number>();

  /** The plan of the leg that ends at `stop`; `next` is that of the leg after it, null for the last one. */
  constructor(tables: DistanceTables, train: Train, stop: Stop, next: LegPlan | null) {
    this.#tables = tables;
    this.#train = train;
    this.#stop = stop;
    this.#next = next;
    stop.tracks.forEach((track, rank) => this.#addTargets(track.blocks, rank));
    const last = [...this.#targets].filter(([, { mayDrawUp }]) => !mayDrawUp);
    this.#distances = tables.to(last.map(([heading]) => heading));
    this.#approach = tables.to([...this.#targets.keys()]);
  }

  /** mm from the heading's end to where the leg ends; 0 at its end, Infinity if no way leads there. */
  distance(heading: Heading): number {
    return this.#distances[heading]!;
  }

  isTarget(heading: Heading): boolean {
    return this.#targets.has(heading);
  }

  /** At a target: whether there is a slot further on in the same track. */
  mayDrawUp(heading: Heading): boolean {
    return this.#targets.get(heading)?.mayDrawUp ?? false;
  }

  /** mm to run from a heading where the leg begins; a leg may begin where it ends, and then leads round. */
  startDistance(heading: Heading): number {
    const distance = this.distance(heading);
    if (distance > 0) return distance;
    let least = Infinity;
    for (const index of this.permitted(heading)) {
      const { length, to } = this.#tables.layout.routes[index]!;
      least = Math.min(least, length + this.distance(to));
    }
    return least;
  }

  /** The permitted routes from a heading, best first: to the preferred track, then the shortest. */
  permitted(heading: Heading): readonly RouteIndex[] {
    const known = this.#permitted.get(heading);
    if (known !== undefined) return known;
    furthestFirst(heading, {
      isKnown: (at) => this.#permitted.has(at),
      needs: (at) =>
        this.#nearer(at)
          .map((route) => this.#end(route))
          .filter((to) => !this.#isRanked(to)),
      find: (at) => this.#permit(at),
    });
    return this.#permitted.get(heading)!;
  }

  /** A lower bound of moves from a heading on the leg to the end of the working. */
  hops(heading: Heading): number {
    const known = this.#hops.get(heading);
    if (known !== undefined) return known;
    furthestFirst(heading, {
      isKnown: (at) => this.#hops.has(at),
      needs: (at) => (this.#endsAt(at) ? [] : this.permitted(at).map((route) => this.#end(route))),
      find: (at) => void this.#hops.set(at, this.#countHops(at)),
    });
    return this.#hops.get(heading)!;
  }

  /** The same where the leg begins, with the headings in which the train may set out. */
  startHops(headings: readonly Heading[]): number {
    let least = Infinity;
    for (const heading of headings) least = Math.min(least, this.#hopsOver(heading));
    return least;
  }

  #addTargets(blocks: readonly ElementIndex[], rank: number): void {
    const { layout } = this.#tables;
    const fitting = blocks
      .flatMap((block) => [headingOf(block, 'b'), headingOf(block, 'a')])
      .filter((heading) => layout.elements[blockOf(heading)]!.permitted[heading & 1])
      .filter((heading) => !this.#stop.stops || this.#fits(blocks, heading))
      .filter((heading) => this.#onwardHops(heading, blocks) < Infinity);
    for (const heading of fitting) {
      if (this.#targets.has(heading)) continue;
      const mayDrawUp =
        this.#stop.stops &&
        this.#slotsNextTo(heading, 'ahead').some((slot) => fitting.includes(slot));
      this.#targets.set(heading, { rank, mayDrawUp });
    }
  }

  #fits(blocks: readonly ElementIndex[], heading: Heading): boolean {
    return standingRoom(this.#tables.layout, blocks, heading) >= this.#train.length;
  }

  /** Least moves for the rest of the working after this leg has ended at the heading. */
  #onwardHops(heading: Heading, blocks: readonly ElementIndex[]): number {
    if (this.#next === null) return 0;
    const starts = [heading];
    if (this.#stop.stops && this.#train.file.canReverse) {
      for (const slot of this.#slotsBehind(heading, blocks)) starts.push(opposite(slot));
    }
    return this.#next.startHops(starts);
  }

  /** The heading itself and the slots of its track behind it, in which the train's tail may stand. */
  #slotsBehind(heading: Heading, blocks: readonly ElementIndex[]): Heading[] {
    const found = [heading];
    for (const slot of found) {
      for (const behind of this.#slotsNextTo(slot, 'behind')) {
        if (blocks.includes(blockOf(behind)) && !found.includes(behind)) found.push(behind);
      }
    }
    return found;
  }

  /** Headings joined directly to the heading's end or to its beginning. */
  #slotsNextTo(heading: Heading, side: 'ahead' | 'behind'): Heading[] {
    const { layout } = this.#tables;
    const routes = side === 'ahead' ? layout.routesFrom[heading]! : layout.routesInto[heading]!;
    return routes
      .map((index) => layout.routes[index]!)
      .filter(({ steps }) => steps.length === 1)
      .map(({ from, to }) => (side === 'ahead' ? to : from));
  }

  #end(route: RouteIndex): Heading {
    return this.#tables.layout.routes[route]!.to;
  }

  /** Routes that bring the train strictly nearer; where the leg ends, all that lead round to it. */
  #nearer(heading: Heading): RouteIndex[] {
    return this.#tables.layout.routesFrom[heading]!.filter((route) => {
      const to = this.#end(route);
      if (this.distance(to) === Infinity) return false;
      return this.distance(heading) === 0 || this.#isNearer(to, heading);
    });
  }

  #isNearer(to: Heading, from: Heading): boolean {
    if (this.isTarget(from)) return this.isTarget(to) && this.distance(to) < this.distance(from);
    return this.isTarget(to) || this.#approach[to]! < this.#approach[from]!;
  }

  #isRanked(heading: Heading): boolean {
    return this.#targets.has(heading) || this.#ranks.has(heading);
  }

  /** The best place in the order of preference that can still be had from a heading. */
  #rank(heading: Heading): number {
    return this.#targets.get(heading)?.rank ?? this.#ranks.get(heading)!;
  }

  /** Finds the permitted routes of a heading and its rank, those of the headings they lead to being known. */
  #permit(heading: Heading): void {
    const ways = this.#nearer(heading)
      .map((index) => this.#tables.layout.routes[index]!)
      .map(({ index, to, length }) => ({
        index,
        rank: this.#rank(to),
        run: this.distance(to) + length,
      }));
    ways.sort((a, b) => a.rank - b.rank || a.run - b.run || a.index - b.index);
    this.#permitted.set(
      heading,
      ways.map(({ index }) => index),
    );
    this.#ranks.set(heading, ways[0]?.rank ?? Infinity);
  }

  /** Whether the leg is over at a heading. */
  #endsAt(heading: Heading): boolean {
    return this.#targets.get(heading)?.mayDrawUp === false;
  }

  #countHops(heading: Heading): number {
    const target = this.#targets.get(heading);
    if (target === undefined) return this.#hopsOver(heading);
    const blocks = this.#stop.tracks[target.rank]!.blocks;
    const onward = this.#onwardHops(heading, blocks);
    return target.mayDrawUp ? Math.min(1 + onward, this.#hopsOver(heading)) : onward;
  }

  #hopsOver(heading: Heading): number {
    let least = Infinity;
    for (const index of this.permitted(heading)) {
      least = Math.min(least, 1 + this.hops(this.#tables.layout.routes[index]!.to));
    }
    return least;
  }
}

/** What is to be found of headings, each from what it needs of others. */
interface Finding {
  isKnown(heading: Heading): boolean;
  /** Headings that must be known first; never round in a circle. */
  needs(heading: Heading): readonly Heading[];
  find(heading: Heading): void;
}

/** Finds something of a heading, and first of all that it needs, however long the way: a stack of calls would be too short. */
function furthestFirst(heading: Heading, { isKnown, needs, find }: Finding): void {
  const open = [heading];
  for (let at = open.at(-1); at !== undefined; at = open.at(-1)) {
    const missing = isKnown(at) ? [] : needs(at).filter((each) => !isKnown(each));
    if (missing.length > 0) {
      open.push(...missing);
      continue;
    }
    if (!isKnown(at)) find(at);
    open.pop();
  }
}

import {
  blockOf,
  consistOf,
  heldBy,
  lengthOf,
  neededFor,
  opposite,
  reversedTrail,
  settle,
  type Heading,
  type Layout,
  type RouteIndex,
  type Train,
  type Trail,
} from '@blockbell/railway';
import { Heap } from './heap.js';
import type { Mover, Reach } from './mover.js';
import { leastRuns, standsAtHome, type Home } from './way-home.js';

/** Where a train stands: the way it faces, which end leads, and all it holds from its rear on. */
export interface Standing {
  readonly heading: Heading;
  readonly frontLeads: boolean;
  readonly trail: Trail;
}

/** A run of one train: after a change of direction or not, over routes one after the other. */
export interface Run {
  readonly turns: boolean;
  readonly routes: readonly RouteIndex[];
  readonly to: Standing;
}

/** A way that is being looked along. */
interface Ahead {
  readonly heading: Heading;
  readonly length: number;
  /** The last route of it, and what is before that; null: nothing is run yet. */
  readonly route: RouteIndex;
  readonly before: Ahead | null;
}

/** What each route needs: its way, and the overlap beyond it. */
export const needsOfRoutes = (layout: Layout): (readonly number[])[] =>
  layout.routes.map((route) => neededFor(layout, route, []));

/**
 * A train of the railway for the search. It stops where it holds nothing but blocks, so clear of every turnout, or in its starting
 * place; it passes no element twice in one run, and none that it holds itself.
 */
export class TrainMover implements Mover<Run> {
  readonly start: number;
  readonly #standings: Standing[] = [];
  readonly #holds: (readonly number[])[] = [];
  readonly #numbers = new Map<string, number>();
  /** Least number of runs, as far as it can be told without trying them. */
  readonly #atLeast: readonly number[] | null;
  /** By node, exactly; of those that can be reached from the start. */
  #least = new Map<number, number>();
  readonly #rests = new Map<string, number>();

  /**
   * @param needs see {@link needsOfRoutes}
   * @param home null: it has no starting place, and only makes room for others
   */
  constructor(
    private readonly layout: Layout,
    private readonly needs: readonly (readonly number[])[],
    private readonly train: Train,
    standing: Standing,
    private readonly home: Home | null,
  ) {
    const { canReverse } = train.file;
    this.#atLeast = home === null ? null : leastRuns(layout, home, canReverse === true);
    this.start = this.#number(standing);
    if (home !== null) this.#countRuns();
  }

  holds(node: number): readonly number[] {
    return this.#holds[node]!;
  }

  standing(node: number): Standing {
    return this.#standings[node]!;
  }

  isHome(node: number): boolean {
    return this.home !== null && this.#isHome(this.#standings[node]!);
  }

  least(node: number): number {
    const known = this.#least.get(node);
    if (known !== undefined) return known;
    const { heading, frontLeads } = this.#standings[node]!;
    return this.#atLeast?.[heading * 2 + (frontLeads ? 1 : 0)] ?? Infinity;
  }

  /** Runs home over empty track from every place that can be reached over it: found by trying, for a run may not cross itself. */
  #countRuns(): void {
    const into: number[][] = [];
    for (let node = 0; node < this.#standings.length; node++) {
      for (const { to } of this.reach(node, () => true)) (into[to] ??= []).push(node);
    }
    const runs = new Map<number, number>();
    let last = this.#standings.flatMap((it, node) => (this.#isHome(it) ? [node] : []));
    for (let count = 0; last.length > 0; count++) {
      for (const node of last) runs.set(node, count);
      last = [...new Set(last.flatMap((node) => into[node] ?? []))].filter((it) => !runs.has(it));
    }
    this.#standings.forEach((_, node) => this.#least.set(node, runs.get(node) ?? Infinity));
  }

  reach(node: number, isFree: (resource: number) => boolean): readonly Reach<Run>[] {
    const standing = this.#standings[node]!;
    const found = new Map<number, Reach<Run> & { readonly length: number }>();
    for (const [turns, from] of this.#facings(standing)) {
      for (const ahead of this.#ways(from, isFree)) {
        const routes = routesOf(ahead);
        const number = this.#restAfter(node, turns, from, routes, ahead.heading);
        const { length } = ahead;
        if (number < 0 || number === node) continue;
        if ((found.get(number)?.length ?? Infinity) <= length) continue;
        const needs = routes.flatMap((route) => this.needs[route]!);
        const to = this.#standings[number]!;
        found.set(number, { to: number, needs, way: { turns, routes, to }, length });
      }
    }
    return [...found.values()].sort((a, b) => a.length - b.length || a.to - b.to);
  }

  /** As it stands, and as it would after a change of direction, if it may make one there. */
  #facings(standing: Standing): [boolean, Standing][] {
    const { trail, frontLeads } = standing;
    const mayTurn =
      this.train.file.canReverse === true &&
      trail.every(({ element, leg }) => {
        const { kind, permitted } = this.layout.elements[element]!;
        return kind === 'block' && permitted[leg.to === 'b' ? 1 : 0];
      });
    if (!mayTurn) return [[false, standing]];
    const rear = trail[0]!;
    const heading = opposite(rear.element * 2 + (rear.leg.to === 'b' ? 0 : 1));
    const turned = { heading, frontLeads: !frontLeads, trail: reversedTrail(this.layout, trail) };
    return [
      [false, standing],
      [true, turned],
    ];
  }

  /** The shortest way to every heading over what is free, nearest first. */
  #ways(from: Standing, isFree: (resource: number) => boolean): Ahead[] {
    const own = new Set(from.trail.map(({ element }) => element));
    const best = new Map<Heading, Ahead>();
    const reached: Ahead[] = [{ heading: from.heading, length: 0, route: -1, before: null }];
    const open = new Heap();
    open.push(0, 0, 0);
    const found: Ahead[] = [];
    const closed = new Set<Heading>();
    for (let item = open.pop(); item !== undefined; item = open.pop()) {
      const at = reached[item]!;
      if (closed.has(at.heading)) continue;
      closed.add(at.heading);
      if (at.before !== null) found.push(at);
      for (const route of this.layout.routesFrom[at.heading] ?? []) {
        const { to, length } = this.layout.routes[route]!;
        const whole = at.length + length;
        if (closed.has(to) || whole >= (best.get(to)?.length ?? Infinity)) continue;
        if (!this.needs[route]!.every(isFree) || !this.#joins(from, own, at, route)) continue;
        const next = { heading: to, length: whole, route, before: at };
        best.set(to, next);
        open.push(reached.push(next) - 1, whole, 0);
      }
    }
    return found;
  }

  /** Whether a route can be set beyond others: over nothing that the train or its way holds, with the same polarities. */
  #joins({ trail }: Standing, own: ReadonlySet<number>, before: Ahead, route: RouteIndex): boolean {
    const { routes } = this.layout;
    const { steps } = routes[route]!;
    if (steps.some(({ element }) => own.has(element))) return false;
    for (const step of steps) if (!agree(trail, step)) return false;
    for (let at: Ahead | null = before; at?.before; at = at.before) {
      const way = routes[at.route]!.steps;
      for (const step of steps) {
        if (way.some(({ element }) => element === step.element) || !agree(way, step)) return false;
      }
    }
    return true;
  }

  /** The place where the train comes to rest at a heading; −1: it would not stand clear there. */
  #restAfter(
    node: number,
    turns: boolean,
    from: Standing,
    routes: readonly RouteIndex[],
    heading: Heading,
  ): number {
    const key = `${node} ${turns} ${routes.join()}`;
    const known = this.#rests.get(key);
    if (known !== undefined) return known;
    const steps = routes.flatMap((route) => this.layout.routes[route]!.steps);
    const whole = [...from.trail, ...steps];
    const mark = this.layout.elements[blockOf(heading)]!.stopMarks[heading & 1]!;
    const { frontLeads } = from;
    const trail = settle(whole, lengthOf(whole) - mark, consistOf(this.train, frontLeads));
    const rest = { heading, frontLeads, trail };
    const number = this.#isHome(rest) || this.#isClear(rest) ? this.#number(rest) : -1;
    this.#rests.set(key, number);
    return number;
  }

  #isHome({ heading, frontLeads }: Standing): boolean {
    return this.home !== null && standsAtHome(this.home, heading, frontLeads);
  }

  #isClear({ trail }: Standing): boolean {
    return trail.every(({ element }) => this.layout.elements[element]!.kind === 'block');
  }

  #number(standing: Standing): number {
    const { heading, frontLeads, trail } = standing;
    const steps = trail.map(
      ({ element, leg, gaps }) => `${element}${leg.from}${leg.to}${gaps.length}`,
    );
    const key = [heading, frontLeads, ...steps].join('|');
    const known = this.#numbers.get(key);
    if (known !== undefined) return known;
    const number = this.#standings.push(standing) - 1;
    this.#holds.push(heldBy(this.layout, trail));
    this.#numbers.set(key, number);
    return number;
  }
}

/** Whether a step asks for the polarities that others ask for. */
const agree = (others: Trail, { gaps }: Trail[number]): boolean =>
  gaps.every(({ element, polarity }) =>
    others.every((other) =>
      other.gaps.every((gap) => gap.element !== element || gap.polarity === polarity),
    ),
  );

function routesOf(ahead: Ahead): RouteIndex[] {
  const routes: RouteIndex[] = [];
  for (let at: Ahead | null = ahead; at?.before; at = at.before) routes.push(at.route);
  return routes.reverse();
}

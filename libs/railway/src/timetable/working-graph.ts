import type { Move, TrainGraph } from '../dispatching/safety-problem.js';
import { consistOf } from '../interlocking/rest-proof.js';
import {
  heldBy,
  lengthOf,
  neededFor,
  reversedTrail,
  settle,
  type Trail,
} from '../interlocking/trail.js';
import {
  blockOf,
  opposite,
  type ElementIndex,
  type Heading,
  type Layout,
  type Route,
  type RouteIndex,
  type Step,
} from '../layout/layout.js';
import type { Train } from '../stock/train.js';
import type { DistanceTables } from './distance-tables.js';
import { LegPlan } from './leg-plan.js';
import type { Timetable, Working } from './timetable.js';
import { stopsOf, type Stop } from './working-stops.js';

/** Where a train rests, or will rest once it has run all that is reserved for it. */
export interface Place {
  /** The leg it is on, or is to begin; the number of legs once its work is done. */
  readonly leg: number;
  readonly heading: Heading;
  readonly frontLeads: boolean;
  /** Whether it stands at the stop where the leg begins, and may change its direction there. */
  readonly atStop: boolean;
  /** The elements held, from the rear up to and including the heading's block, in the direction of travel. */
  readonly trail: Trail;
}

/** What a move means on the track. */
export interface MoveMeaning {
  /** The route to reserve; null: the train ends its leg where it stands and doesn't draw up in its track. */
  readonly route: RouteIndex | null;
  /** Whether the train changes its direction first. */
  readonly reverses: boolean;
}

/** A node whose moves were looked up, which gave numbers to others, or a rest that was given a number by itself. */
export type Finding = number | Place;

interface Expansion {
  readonly moves: readonly Move[];
  readonly meanings: ReadonlyMap<number, MoveMeaning>;
}

export interface WorkingGraphInput {
  readonly layout: Layout;
  readonly train: Train;
  readonly timetable: Timetable;
  readonly working: Working | null;
  /** Where the train stands when the session begins, with its front leading; null if it is not on the layout. */
  readonly start: Heading | null;
  /** Shared by all trains of the layout. */
  readonly tables: DistanceTables;
}

/**
 * A train's working as a graph for the safety check: nodes are places where it may rest, moves are routes. Resources
 * are element indexes. Found lazily; node numbers mean the same for as long as the graph lives, but not in another
 * graph: keep the {@link Place} and ask {@link WorkingGraph.nodeFor} for its number.
 */
export class WorkingGraph implements TrainGraph {
  /** Leg `k` leads from stop `k` to stop `k + 1`. */
  readonly stops: readonly Stop[];
  readonly legCount: number;
  /** The node of a train that is not on the railway: it holds nothing, and nothing is asked of it. */
  readonly absent: number;
  /** The node where the train stands when the session begins. */
  readonly start: number;
  readonly #layout: Layout;
  readonly #train: Train;
  readonly #plans: readonly LegPlan[];
  readonly #nodes: Place[] = [];
  readonly #holds: (readonly ElementIndex[])[] = [];
  readonly #expansions: (Expansion | undefined)[] = [];
  readonly #distances: (number | undefined)[] = [];
  readonly #numbers = new Map<string, number>();
  readonly #findings: Finding[] = [];

  constructor({ layout, train, timetable, working, start, tables }: WorkingGraphInput) {
    this.#layout = layout;
    this.#train = train;
    this.stops = stopsOf(timetable, working, start);
    this.legCount = this.stops.length - 1;
    const plans: LegPlan[] = [];
    for (const stop of this.stops.slice(1).reverse()) {
      plans.unshift(new LegPlan(tables, train, stop, plans[0] ?? null));
    }
    this.#plans = plans;
    const whole = { leg: this.legCount, frontLeads: true, atStop: true };
    this.absent = this.#number({ ...whole, heading: -1, trail: [] }, null);
    this.start =
      start === null
        ? this.absent
        : this.nodeFor({ ...whole, leg: 0, heading: start, trail: [layout.blockSteps[start]!] });
  }

  moves(node: number): readonly Move[] {
    return this.#expand(node).moves;
  }

  holds(node: number): readonly ElementIndex[] {
    return this.#holds[node]!;
  }

  isGoal(node: number): boolean {
    return this.#nodes[node]!.leg === this.legCount;
  }

  distance(node: number): number {
    return (this.#distances[node] ??= this.#findDistance(node));
  }

  #findDistance(node: number): number {
    const { leg, heading, atStop, trail } = this.#nodes[node]!;
    const plan = this.#plans[leg];
    if (plan === undefined) return 0;
    if (!atStop) return plan.hops(heading);
    const back = this.#mayReverse(leg, trail) ? [opposite(rearHeading(trail))] : [];
    return plan.startHops([heading, ...back]);
  }

  /** Where a train at the node rests. */
  placeOf(node: number): Place {
    return this.#nodes[node]!;
  }

  /** What the move from one node to another means; throws if there is no such move. */
  meaningOf(node: number, to: number): MoveMeaning {
    const meaning = this.#expand(node).meanings.get(to);
    if (meaning === undefined) throw new Error(`there is no move from node ${node} to ${to}`);
    return meaning;
  }

  /**
   * The node of a place; its distance is Infinity if the train can't end its work from there. What a train at rest there
   * need not hold is left out, so equal rests have the same number. A train put down where its leg ends has ended it.
   */
  nodeFor(place: Place): number {
    const plan = this.#plans[place.leg];
    const ended =
      plan?.distance(place.heading) === 0 && plan.startDistance(place.heading) === Infinity;
    const rest = this.#atRest(ended ? { ...place, leg: place.leg + 1 } : place);
    const before = this.#nodes.length;
    const number = this.#number(rest, null);
    if (number === before) this.#findings.push(rest);
    return number;
  }

  /** How the nodes came by their numbers, to give them the same in another graph of the same working. */
  get findings(): readonly Finding[] {
    return this.#findings;
  }

  /** Numbers nodes as another graph did. Only for a graph that nobody has asked anything yet. */
  findAgain(findings: readonly Finding[]): void {
    for (const finding of findings.slice(this.#findings.length)) {
      if (typeof finding === 'number') this.#expand(finding);
      else {
        this.#number(finding, null);
        this.#findings.push(finding);
      }
    }
  }

  /** The node of the same rest, facing the other way. */
  turnedNode(node: number): number {
    const place = this.#nodes[node]!;
    return this.nodeFor({
      ...place,
      heading: opposite(rearHeading(place.trail)),
      frontLeads: !place.frontLeads,
      trail: reversedTrail(this.#layout, place.trail),
    });
  }

  /** Whether the leg may end at the heading. */
  isTarget(leg: number, heading: Heading): boolean {
    return this.#plans[leg]?.isTarget(heading) ?? false;
  }

  /** The node with only what a train resting at its heading's mark still holds. */
  #atRest(node: Place): Place {
    const { trail, heading, frontLeads } = node;
    const head = lengthOf(trail) - this.#layout.elements[blockOf(heading)]!.stopMarks[heading & 1]!;
    return { ...node, trail: settle(trail, head, consistOf(this.#train, frontLeads)) };
  }

  /** Numbers a node at rest. `way` tells apart two ways to the same rest over different turnouts. */
  #number(node: Place, way: RouteIndex | null): number {
    const { leg, heading, frontLeads, atStop, trail } = node;
    const flags = (frontLeads ? 1 : 0) + (atStop ? 2 : 0);
    const key = [leg, heading, flags, way ?? '', ...trail.map(stepKey)].join('|');
    const known = this.#numbers.get(key);
    if (known !== undefined) return known;
    const number = this.#nodes.length;
    this.#nodes.push(node);
    this.#holds.push(heldBy(this.#layout, trail));
    this.#numbers.set(key, number);
    return number;
  }

  #expand(node: number): Expansion {
    const known = this.#expansions[node];
    if (known !== undefined) return known;
    const before = this.#nodes.length;
    const expansion = this.#findMoves(node);
    this.#expansions[node] = expansion;
    if (this.#nodes.length > before) this.#findings.push(node);
    return expansion;
  }

  #findMoves(number: number): Expansion {
    const moves: Move[] = [];
    const meanings = new Map<number, MoveMeaning>();
    const node = this.#nodes[number]!;
    const plan = this.#plans[node.leg];
    if (plan === undefined) return { moves, meanings };

    const facing = this.#facing(node, plan);
    const reverses = facing !== node;
    for (const index of plan.permitted(facing.heading)) {
      const route = this.#layout.routes[index]!;
      const polarities = polaritiesOf(route.steps);
      if (polarities === null) continue;
      const place = this.#reached(facing, plan, route);
      const first = this.#number(place, null);
      const to = meanings.has(first) ? this.#number(place, index) : first;
      meanings.set(to, { route: index, reverses });
      moves.push({
        to,
        needs: neededFor(this.#layout, route, this.#holds[to]!),
        needsFreeOfSelf: conflictsWithSelf(facing.trail, route.steps, polarities),
      });
    }
    if (!node.atStop && plan.mayDrawUp(node.heading)) {
      const to = this.#number({ ...node, leg: node.leg + 1, atStop: true }, null);
      meanings.set(to, { route: null, reverses: false });
      moves.push({ to, needs: this.#holds[number]!, needsFreeOfSelf: [] });
    }
    return { moves, meanings };
  }

  /** The node itself, or as it is after a change of direction, where that is the shorter way on. */
  #facing(node: Place, plan: LegPlan): Place {
    const { leg, heading, frontLeads, atStop, trail } = node;
    if (!atStop || !this.#mayReverse(leg, trail)) return node;
    const rear = opposite(rearHeading(trail));
    if (plan.startDistance(rear) >= plan.startDistance(heading)) return node;
    const turned = reversedTrail(this.#layout, trail);
    return { ...node, heading: rear, frontLeads: !frontLeads, trail: turned };
  }

  #reached(facing: Place, plan: LegPlan, { to, steps }: Route): Place {
    const ends = plan.isTarget(to) && !plan.mayDrawUp(to);
    return this.#atRest({
      leg: facing.leg + (ends ? 1 : 0),
      heading: to,
      frontLeads: facing.frontLeads,
      atStop: ends && this.stops[facing.leg + 1]!.stops,
      trail: [...facing.trail, ...steps],
    });
  }

  /** A train may change its direction where it stops, if it holds blocks alone and may run back along each of them. */
  #mayReverse(leg: number, trail: Trail): boolean {
    if (!this.#train.file.canReverse || !this.stops[leg]!.stops) return false;
    return trail.every(({ element, leg }) => {
      const { kind, permitted } = this.#layout.elements[element]!;
      return kind === 'block' && permitted[leg.to === 'b' ? 1 : 0];
    });
  }
}

/** The heading of the rearmost element of a trail, which is a block. */
const rearHeading = (trail: Trail): Heading =>
  trail[0]!.element * 2 + (trail[0]!.leg.to === 'b' ? 0 : 1);

const stepKey = ({ element, leg, gaps }: Step): string =>
  `${element}${leg.from}${leg.to}${gaps.length}`;

/** The polarity each reversing section must have; null if the steps ask for both at once. */
function polaritiesOf(steps: Trail): Map<ElementIndex, string> | null {
  const polarities = new Map<ElementIndex, string>();
  for (const { gaps } of steps) {
    for (const { element, polarity } of gaps) {
      if ((polarities.get(element) ?? polarity) !== polarity) return null;
      polarities.set(element, polarity);
    }
  }
  return polarities;
}

/** Elements the way needs that the train itself still stands on, and polarities it bridges the other way. */
function conflictsWithSelf(
  trail: Trail,
  way: Trail,
  polarities: ReadonlyMap<ElementIndex, string>,
): ElementIndex[] {
  const own = new Set(trail.map(({ element }) => element));
  const conflicts = new Set(way.map(({ element }) => element).filter((it) => own.has(it)));
  for (const { gaps } of trail) {
    for (const { element, polarity } of gaps) {
      if ((polarities.get(element) ?? polarity) !== polarity) conflicts.add(element);
    }
  }
  return [...conflicts];
}

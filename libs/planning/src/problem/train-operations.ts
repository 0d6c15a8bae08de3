import { blockOf, callBefore, type World } from '@blockbell/railway';
import type { Situation, TrainSituation } from '../situation/situation.js';
import { ARRIVING, delayWeight, LATE, MARGIN, TRACK_RANK } from './choices.js';
import { awaitedIn, departureConnections, type KnownArrivals } from './connections.js';
import type { PlacesAhead, PlannedMove } from './places.js';
import { connectionResource } from './resources.js';
import { approachTime, moveTime, type MoveTime } from './timing.js';
import type { DelayCost, Draft, TrainPlan } from './train-plan.js';
import { TICK, ticks } from './units.js';

export interface TrainInput {
  readonly world: World;
  readonly situation: Situation;
  readonly train: number;
  readonly state: TrainSituation;
  /** Null: it stays where its way ends. */
  readonly ahead: PlacesAhead | null;
  readonly horizon: number;
  readonly arrivals: KnownArrivals;
}

/** One train’s possible courses as operations, from what it holds now to the end of the plan. */
export function trainOperations(input: TrainInput): TrainPlan {
  const drafts = new Drafts(input);
  drafts.begin();
  for (const node of input.ahead?.nodes ?? [])
    for (const move of input.ahead!.moves.get(node)!) drafts.add(move);
  return drafts.finish();
}

type Open = Omit<Draft, 'successors'> & { readonly successors: number[] };

class Drafts {
  readonly #open: Open[] = [];
  readonly #costs: DelayCost[] = [];
  /** By node: the operations that bring the train there, and those with which it goes on. */
  readonly #into = new Map<number, number[]>();
  readonly #outOf = new Map<number, number[]>();
  readonly #times = new Map<PlannedMove, MoveTime>();
  /** By node where the train need not stop: how long before its mark it asks for its next route. */
  readonly #leads = new Map<number, number>();

  constructor(private readonly input: TrainInput) {
    this.#findTimes();
  }

  /** What it holds now, freed step by step as its tail passes on. */
  begin(): void {
    const { state, ahead } = this.input;
    const { place, held, arrives } = state;
    const isAwaited = place.atStop && !state.arrived;
    const lead = ahead === null ? 0 : this.#leadAt(ahead.start);
    const end = ticks(Math.max(0, arrives - lead + (isAwaited ? ARRIVING : 0)));
    const moments = [...new Set(held.map(({ until }) => ticks(until)))]
      .filter((at) => at > 0 && at < end)
      .sort((a, b) => a - b);
    const starts = [0, ...moments];
    starts.forEach((start, i) => {
      const isLast = i === starts.length - 1;
      const dwell = isLast && isAwaited ? this.#dwellAt(place.leg) : 0;
      const operation = this.#push({
        startLb: start,
        minDuration: (starts[i + 1] ?? end) - start + dwell,
        holds: held
          .filter((it) => ticks(it.until) > start || it.until === Infinity)
          .map((it) => it.resource),
        meaning: isLast
          ? { kind: 'place', leg: place.leg, atStop: isAwaited, run: arrives - start * TICK }
          : { kind: 'begin' },
      });
      if (i > 0) this.#open[operation - 1]!.successors.push(operation);
      if (isLast) this.#note(this.#into, ahead?.start ?? -1, operation);
    });
  }

  /** One move: the route, then the place it leads to. */
  add(move: PlannedMove): void {
    const { world, train, ahead } = this.input;
    const graph = world.graphs[train]!;
    const { leg } = graph.placeOf(move.from);
    const reached = graph.placeOf(move.to);
    const { clearing, rest } = this.#times.get(move)!;
    const first = this.#open.length;
    if (move.route !== null) {
      const duration = ticks(clearing + this.#leadAt(move.from));
      const meaning = { kind: 'route', leg, route: move.route } as const;
      for (const departure of this.#departures(move)) {
        const { takes: holds } = move;
        const extra = departure.awaits.map(connectionResource);
        this.#push({
          startLb: departure.at,
          minDuration: duration,
          holds: extra.length === 0 ? holds : [...holds, ...extra],
          meaning,
        });
      }
    }
    const routes = this.#open.length - first;
    const stops = reached.atStop && reached.leg > leg;
    const isEnd = ahead!.moves.get(move.to)!.length === 0;
    const dwell = stops && !isEnd ? this.#dwellAt(reached.leg) : 0;
    const run = Math.max(0, rest - this.#leadAt(move.to));
    const place = this.#push({
      startLb: 0,
      minDuration: ticks(run + (stops ? ARRIVING : 0)) + dwell,
      holds: graph.holds(move.to),
      meaning: { kind: 'place', leg: reached.leg, atStop: stops, run: rest },
    });
    for (let at = first; at < first + routes; at++) {
      this.#open[at]!.successors.push(place);
      this.#note(this.#outOf, move.from, at);
    }
    if (routes === 0) this.#note(this.#outOf, move.from, place);
    this.#note(this.#into, move.to, place);
    if (stops) this.#cost(place, reached.leg, blockOf(reached.heading), rest);
  }

  finish(): TrainPlan {
    const { world, situation, horizon, train, arrivals } = this.input;
    const end = this.#push({
      startLb: ticks(horizon),
      minDuration: 0,
      holds: [],
      meaning: { kind: 'end' },
    });
    for (const [node, operations] of this.#into) {
      const onward = this.#outOf.get(node) ?? [end];
      for (const operation of operations) this.#open[operation]!.successors.push(...onward);
    }
    return {
      train,
      drafts: this.#open,
      costs: this.#costs,
      awaited: awaitedIn(world, situation, arrivals, train, this.#open),
    };
  }

  /** The moments at which the move may be made at the earliest, and by waiting for which connections. */
  #departures(move: PlannedMove): { readonly at: number; readonly awaits: readonly number[] }[] {
    const { world, situation, train, state, ahead, horizon, arrivals } = this.input;
    const graph = world.graphs[train]!;
    const { leg, atStop } = graph.placeOf(move.from);
    let at = closedUntil(world, situation, move, horizon);
    const isStart = move.from === ahead!.start;
    if (isStart) at = Math.max(at, Math.min(state.kept, horizon), state.ready);
    if (!atStop || (isStart && !state.place.atStop)) return [{ at: ticks(at), awaits: [] }];
    const depart = callBefore(world, train, leg)?.depart ?? null;
    if (depart !== null && !(isStart && state.arrived))
      at = Math.max(at, (depart - situation.fast) / situation.ratio);
    return departureConnections(world, situation, arrivals, train, leg, at).map((departure) => ({
      at: ticks(departure.at),
      awaits: departure.awaits,
    }));
  }

  #findTimes(): void {
    const { world, train, state, ahead } = this.input;
    if (ahead === null) return;
    const graph = world.graphs[train]!;
    const stock = world.stock.trains[train]!;
    const most = approachTime(stock);
    const isStill = (node: number): boolean =>
      node === ahead.start
        ? state.arrives === 0 || graph.placeOf(node).atStop
        : graph.placeOf(node).atStop;
    if (!isStill(ahead.start)) this.#leads.set(ahead.start, Math.min(most, state.arrives));
    for (const node of ahead.nodes) {
      for (const move of ahead.moves.get(node)!) {
        const time = moveTime(world.layout, stock, graph, move, isStill(node));
        this.#times.set(move, time);
        if (isStill(move.to) || graph.isGoal(move.to)) continue;
        this.#leads.set(move.to, Math.min(this.#leads.get(move.to) ?? most, time.rest));
      }
    }
  }

  #leadAt(node: number): number {
    return this.#leads.get(node) ?? 0;
  }

  #dwellAt(leg: number): number {
    const { world, train, situation } = this.input;
    const call = callBefore(world, train, leg);
    return call === null ? 0 : ticks(Math.max(call.dwellFast / situation.ratio, call.dwellReal));
  }

  #cost(operation: number, leg: number, block: number, run: number): void {
    const { world, train, situation } = this.input;
    const { stops } = world.graphs[train]!;
    const { calls, tracks } = stops[leg]!;
    const [call] = calls;
    const weight = delayWeight(world.stock.trains[train]!.file.priority);
    const rank = tracks.findIndex(({ blocks }) => blocks.includes(block));
    if (rank > 0)
      this.#costs.push({
        operation,
        threshold: 0,
        coeff: 0,
        increment: rank * TRACK_RANK * weight,
      });
    const arrive =
      call === undefined ? null : world.timetable.services[call.service]!.calls[call.call]!.arrive;
    if (arrive === null) return;
    const due = (arrive - situation.fast) / situation.ratio - run - ARRIVING;
    const late = { operation, increment: 0 };
    this.#costs.push(
      { ...late, threshold: Math.max(0, ticks(due)), coeff: LATE * weight },
      { ...late, threshold: Math.max(0, ticks(due - MARGIN)), coeff: weight },
    );
  }

  #push(draft: Omit<Open, 'successors'>): number {
    return this.#open.push({ ...draft, successors: [] }) - 1;
  }

  #note(map: Map<number, number[]>, node: number, operation: number): void {
    const known = map.get(node);
    if (known === undefined) map.set(node, [operation]);
    else known.push(operation);
  }
}

/** When the track of a move will be open, ms. */
function closedUntil(
  { layout }: World,
  { closed }: Situation,
  { route }: PlannedMove,
  horizon: number,
): number {
  if (route === null || closed.length === 0) return 0;
  const elements = new Set(layout.routes[route]!.steps.map(({ element }) => element));
  return closed.reduce(
    (latest, { element, until }) =>
      elements.has(element) ? Math.max(latest, Math.min(until, horizon)) : latest,
    0,
  );
}

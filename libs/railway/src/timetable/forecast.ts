import { isCancelled } from '../dispatching/wishes/cancelled.js';
import { lastHeading } from '../interlocking/held-path.js';
import { opposite, blockOf, type Heading, type Layout } from '../layout/layout.js';
import { PLAN_LASTS } from '../dispatching/follow-plan.js';
import { runningTime } from '../movement/running-time.js';
import { speedAt } from '../movement/motion.js';
import { headAt } from '../movement/train-motion.js';
import { nextCall } from '../session/explain.js';
import type { EngineState } from '../session/state.js';
import type { World } from '../session/world.js';
import { instant, mm, mmPerS } from '../units.js';
import { callBefore, dweltAt } from './departure.js';
import { fastNow } from './fast-clock.js';
import { callFrom, callTo, legStops } from './legs.js';
import type { CallRef } from './working-stops.js';

/** When a train is expected at a call, fast ms; null: it has arrived already, or does not go on from there. */
export interface ForecastCall extends CallRef {
  readonly arrive: number | null;
  readonly depart: number | null;
}

/**
 * What a train is expected to do next: by the plan that is followed; or, where there is none or it says nothing of the train, plainly
 * by what is booked and how late it is now, never earlier than it can run there.
 */
export interface Forecast {
  readonly by: 'plan' | 'lateness';
  /** In order; the first is where it stands, or the one it runs to. */
  readonly calls: readonly ForecastCall[];
}

/** A plain forecast looks as far, fast ms; a plan as far as it reaches. */
const PLAIN_AHEAD = 30 * 60_000;

/** The forecast of a train at the state's own moment; null when it has no work ahead or is not on the layout. Only reads. */
export function forecastOf(world: World, state: EngineState, index: number): Forecast | null {
  const train = state.trains[index];
  if (train === undefined || train.activity.kind === 'absent') return null;
  if (callTo(world.graphs[index]!, train.leg) === null) return null;
  return plannedForecast(world, state, index) ?? plainForecast(world, state, index);
}

/** From the plan, as long as the train has not left it; what is overdue is expected now. */
function plannedForecast(world: World, state: EngineState, index: number): Forecast | null {
  const force = state.dispatching.plan;
  if (force === null || state.now - force.plan.made >= PLAN_LASTS) return null;
  if (force.next[index]! > force.plan.steps.length) return null;
  const fast = fastNow(state.session.clock, state.now);
  const notPast = (time: number | null): number | null =>
    time === null ? null : Math.max(time, Math.round(fast));
  const coming = callsAhead(world, state, index);
  const calls = coming.flatMap(({ service, call, arrives, departs }): ForecastCall[] => {
    const told = force.plan.calls.find(
      (it) => it.train === index && it.service === service && it.call === call,
    );
    const arrive = arrives ? notPast(told?.arrive ?? null) : null;
    const depart = departs ? notPast(told?.depart ?? null) : null;
    return arrive === null && depart === null ? [] : [{ service, call, arrive, depart }];
  });
  const [first] = calls;
  const isNext = first !== undefined && first.service === coming[0]!.service;
  return isNext && first.call === coming[0]!.call ? { by: 'plan', calls } : null;
}

function plainForecast(world: World, state: EngineState, index: number): Forecast {
  const train = state.trains[index]!;
  const { services } = world.timetable;
  const fast = Math.round(fastNow(state.session.clock, state.now));
  const running = Math.round(leastTime(world, state, index) * state.session.clock.ratio);
  let late = Math.max(0, (nextCall(world, state, index)?.lateness ?? 0) * 1000);
  let earliest = fast + running;
  const calls: ForecastCall[] = [];
  for (const { service, call, arrives, departs } of callsAhead(world, state, index)) {
    const booked = services[service]!.calls[call]!;
    let arrive: number | null = null;
    if (arrives && booked.arrive !== null) {
      arrive = Math.max(booked.arrive + late, earliest);
      late = Math.max(0, arrive - booked.arrive);
    }
    let depart: number | null = null;
    if (departs && booked.depart !== null) {
      depart = booked.depart + late;
      if (train.arrivedAt !== null && calls.length === 0) {
        depart = Math.max(depart, fast, readyAt(world, state, index, fast));
        late = Math.max(late, depart - booked.depart);
        earliest = depart + running;
      }
    }
    if ((arrive ?? depart ?? 0) > fast + PLAIN_AHEAD && calls.length > 0) break;
    if (arrive !== null || depart !== null) calls.push({ service, call, arrive, depart });
    if (arrives) earliest = 0;
  }
  return { by: 'lateness', calls };
}

interface CallAhead extends CallRef {
  /** Whether its arrival there is still to come, and whether it leaves from there in the same service. */
  readonly arrives: boolean;
  readonly departs: boolean;
}

/** The calls still ahead, the one where it stands first; where a service ends and the next begins, both. None of what is cancelled. */
function callsAhead(world: World, state: EngineState, index: number): CallAhead[] {
  const train = state.trains[index]!;
  const graph = world.graphs[index]!;
  const ahead: CallAhead[] = [];
  const standsAt = train.arrivedAt === null ? null : callFrom(graph, train.leg);
  if (standsAt !== null) ahead.push({ ...standsAt, arrives: false, departs: true });
  for (let leg = train.leg; leg < graph.legCount; leg++) {
    const to = callTo(graph, leg);
    const from = callFrom(graph, leg + 1);
    if (to === null) continue;
    const goesOn = from?.service === to.service && from.call === to.call;
    ahead.push({ ...to, arrives: true, departs: goesOn });
    if (from !== null && !goesOn) ahead.push({ ...from, arrives: false, departs: true });
  }
  return ahead.filter(({ service }) => !isCancelled({ state }, service));
}

function readyAt(world: World, state: EngineState, index: number, fast: number): number {
  const train = state.trains[index]!;
  const call = callBefore(world, index, train.leg);
  if (call === null || train.arrivedAt === null) return fast;
  const left = Math.max(0, dweltAt(state.session.clock, call, train, state.now) - state.now);
  return fast + Math.round(left * state.session.clock.ratio);
}

/** Physical ms that the way to the next call takes at least: the shortest there is, at the train's top speed. */
function leastTime(world: World, state: EngineState, index: number): number {
  const train = state.trains[index]!;
  const stock = world.stock.trains[index]!;
  const model = world.models[index]!;
  const to = callTo(world.graphs[index]!, train.leg);
  if (to === null || train.path.length === 0) return 0;
  const { tracks } = world.timetable.services[to.service]!.calls[to.call]!;
  const targets = new Set(tracks.flatMap(({ blocks }) => blocks));
  const end = lastHeading(train.path);
  const starts = train.arrivedAt === null ? [end] : [end, opposite(end)];
  const beyond = shortestTo(world.layout, starts, targets);
  const held = Math.max(0, train.mark - Math.round(headAt(model, train, state.now) / 1000));
  const length = mm(held + beyond);
  const speed = Math.round(
    speedAt(train.reckoning.nominal, model.nominal, instant(state.now)) / 1000,
  );
  const leaves = legStops(world.graphs[index]!, train.leg) ? mmPerS(0) : stock.topSpeed;
  return runningTime([{ length, limit: stock.topSpeed }], stock, mmPerS(speed), leaves);
}

/** Ends of routes looked at for one way. */
const REACH = 200;

/** Length of the shortest way over routes into one of the blocks, mm; 0 where none is found near enough. */
function shortestTo(
  layout: Layout,
  starts: readonly Heading[],
  targets: ReadonlySet<number>,
): number {
  const distance = new Map<Heading, number>(starts.map((it) => [it, 0]));
  const open = new Set<Heading>(starts);
  for (let looked = 0; looked < REACH && open.size > 0; looked++) {
    const heading = [...open].reduce((best, it) =>
      distance.get(it)! < distance.get(best)! ? it : best,
    );
    open.delete(heading);
    if (targets.has(blockOf(heading))) return distance.get(heading)!;
    for (const index of layout.routesFrom[heading] ?? []) {
      const { to, length } = layout.routes[index]!;
      const reached = distance.get(heading)! + length;
      if (reached >= (distance.get(to) ?? Infinity)) continue;
      distance.set(to, reached);
      open.add(to);
    }
  }
  return 0;
}

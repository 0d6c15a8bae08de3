import {
  arrivalOf,
  blockOf,
  blocksOf,
  canCome,
  fastNow,
  headAt,
  heldBy,
  instant,
  isCancelled,
  mmPerS,
  speedAt,
  stepOf,
  type EngineState,
  type Place,
  type TrainState,
  type World,
} from '@blockbell/railway';
import { keptSince, mayLeaveAt } from './may-leave.js';
import { ANY_SPEED, STANDING, timeOver, type Run } from './running.js';
import type { Situation, TrainSituation } from './situation.js';

/**
 * How long a fault is taken to last until a person has seen to it, or a hold by a person, physical ms; and what has kept a train for so
 * long already is taken to last as long again. Guesses.
 */
const MENDING = 30_000;
const LONG = 60_000;

/** Looks at a running session at the physical time `now`. Only reads; the engine's thread does it between two steps. */
export function lookAt(world: World, state: EngineState, now: number): Situation {
  const { clock } = state.session;
  return {
    now,
    fast: fastNow(clock, now),
    ratio: clock.ratio,
    added: state.added,
    staging: { rules: state.staging.rules, used: { ...state.staging.lastUsed } },
    closed: closedElements(world, state),
    trains: state.trains.map((train, index) => lookAtTrain(world, state, train, index, now)),
    arrivals: world.timetable.connections.map(({ from, station }) =>
      isCancelled({ state }, from) ? -Infinity : arrivalOf(state, world, from, station),
    ),
    firsts: state.dispatching.wishes.firsts.map(({ first, second, leg, elements }) => ({
      first,
      second,
      leg,
      elements: [...elements],
    })),
  };
}

function closedElements(world: World, state: EngineState): Situation['closed'] {
  return state.elements.flatMap(({ possession, proof, holder }, element) => {
    if (possession !== null) return [{ element, until: Infinity }];
    const sections = world.layout.elements[element]?.sections ?? [];
    const isUnknown = holder < 0 && sections.some((it) => state.sections[it]!.belief !== 'clear');
    const isClaimed = sections.some((it) => state.sections[it]!.claim >= 0);
    return proof === 'failed' || (isUnknown && !isClaimed) ? [{ element, until: MENDING }] : [];
  });
}

function lookAtTrain(
  world: World,
  state: EngineState,
  train: TrainState,
  index: number,
  now: number,
): TrainSituation | null {
  const { kind } = train.activity;
  if (kind === 'absent' || train.path.length === 0) return null;
  const place = world.graphs[index]!.placeOf(train.node);
  const run = runToEnd(world, train, index, place, now);
  const { clock } = state.session;
  const { wishes } = state.dispatching;
  const mayLeave = mayLeaveAt(world, train, index, clock, now);
  return {
    place,
    held: heldNow(world, train, index, place, run),
    arrives: timeOver(world.stock.trains[index]!, run),
    ready: Math.max(0, mayLeave - now),
    kept: canCome(train) ? 0 : keptFor(keptSince(world, train, index, clock, now), now),
    arrived: train.arrivedAt !== null,
    tracks: wishes.tracks.flatMap((wish) => {
      const blocks = wish.train === index ? blocksOf(world.graphs[index]!, wish) : null;
      return blocks === null ? [] : [{ leg: wish.leg, blocks: [...blocks] }];
    }),
    cancelledFrom: wishes.cancellations.find((it) => it.train === index && !it.done)?.leg ?? null,
  };
}

/** From where its head is to the mark of the place where its way ends, as a run over its path. */
function runToEnd(world: World, train: TrainState, index: number, place: Place, now: number): Run {
  const model = world.models[index]!;
  const { path, reckoning } = train;
  const start = path[0]!.start;
  const { heading } = place;
  const mark = path.at(-1)!.end - world.layout.elements[blockOf(heading)]!.stopMarks[heading & 1]!;
  const head = headAt(model, train, now) / 1000;
  const speed = speedAt(reckoning.nominal, model.nominal, instant(now)) / 1000;
  return {
    steps: path.map((item) => stepOf(world.layout, item)),
    from: Math.min(head, mark) - start,
    to: mark - start,
    enters: mmPerS(speed),
    leaves: place.atStop || train.leg >= world.graphs[index]!.legCount ? STANDING : ANY_SPEED,
  };
}

function heldNow(
  world: World,
  train: TrainState,
  index: number,
  place: Place,
  run: Run,
): TrainSituation['held'] {
  const stock = world.stock.trains[index]!;
  const kept = new Set(heldBy(world.layout, place.trail));
  const origin = train.path[0]!.start;
  const until = new Map<number, number>();
  for (const item of train.path) {
    const passed = item.releaseAt - origin + stock.length - run.from;
    for (const resource of heldBy(world.layout, [stepOf(world.layout, item)])) {
      const at = kept.has(resource) ? Infinity : timeOver(stock, run, passed);
      until.set(resource, Math.max(until.get(resource) ?? 0, at));
    }
  }
  for (const resource of [...train.overlap, ...kept])
    if (!until.has(resource))
      until.set(resource, kept.has(resource) ? Infinity : timeOver(stock, run));
  return [...until].map(([resource, at]) => ({ resource, until: at }));
}

/** How much longer a fault or a hold is taken to last; it counts from when the train could have gone. */
function keptFor(since: number | null, now: number): number {
  return since !== null && now - since > LONG ? now - since : MENDING;
}

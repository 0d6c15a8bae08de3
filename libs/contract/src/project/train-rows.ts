import {
  askedDoubt,
  callTo,
  explainWait,
  forecastOf,
  nextCall,
  placeText,
  stepOf,
} from '@blockbell/railway';
import type { EngineState, Layout, PathItem, Train, TrainState, World } from '@blockbell/railway';
import type { RunView, TrainView } from '../messages/views.js';

export function trainRow(world: World, state: EngineState, index: number): TrainView {
  const train = state.trains[index]!;
  const stock = world.stock.trains[index]!;
  const call = nextCall(world, state, index);
  const [wait = null, ...chain] = explainWait(world, state, index);
  return {
    train: index,
    activity: train.activity.kind,
    known: train.identity.certainty,
    evidence: train.identity.evidence,
    doubt: doubtRow(world, state, index),
    confirmed: train.confirmed,
    path: train.path.map((item) => pathRow(world.layout, item)),
    motion: motionRow(train, stock),
    mark: train.mark,
    length: stock.length,
    frontLeads: train.frontLeads,
    service: call === null ? null : world.timetable.services[call.service]!.file.name,
    where: placeText(world, state, index),
    next: call?.text ?? null,
    nextFast: call?.fast ?? null,
    lateness: wholeMinutes(call?.lateness ?? 0),
    forecast: forecastRow(world, state, index),
    held: train.held,
    wishes: wishesRow(world, state, index),
    staging: stagingRow(state, index),
    handSpeed: train.handSpeed,
    topSpeed: stock.topSpeed,
    wait,
    chain,
  };
}

function doubtRow(world: World, state: EngineState, index: number): TrainView['doubt'] {
  const doubt = askedDoubt({ world, state }, index);
  if (doubt === null) return null;
  const { block, lines, candidates } = doubt;
  return {
    block,
    lines: [...lines],
    candidates: candidates.map((each) => ({ ...each, share: Math.round(each.share * 100) })),
  };
}

function stagingRow({ staging }: EngineState, index: number): TrainView['staging'] {
  const choice = staging.choices[index] ?? null;
  return choice === null ? null : { station: choice.station, why: choice.why };
}

function wishesRow(world: World, state: EngineState, index: number): TrainView['wishes'] {
  const { tracks, firsts, cancellations } = state.dispatching.wishes;
  return {
    tracks: tracks.flatMap(({ train, leg, track }) => {
      const to = train === index ? callTo(world.graphs[index]!, leg) : null;
      return to === null ? [] : [{ ...to, track }];
    }),
    before: firsts.flatMap(({ first, second }) => (first === index ? [second] : [])),
    cancelled: cancellations.flatMap(({ train, services }) => (train === index ? services : [])),
  };
}

/** To half a fast-clock minute, so that a row does not change with every look. */
const FORECAST_STEP = 30_000;

function forecastRow(world: World, state: EngineState, index: number): TrainView['forecast'] {
  const forecast = forecastOf(world, state, index);
  if (forecast === null) return null;
  const rounded = (time: number | null): number | null =>
    time === null ? null : Math.round(time / FORECAST_STEP) * FORECAST_STEP;
  const { by, calls } = forecast;
  return {
    by,
    calls: calls.map(({ service, call, arrive, depart }) => ({
      service,
      call,
      arrive: rounded(arrive),
      depart: rounded(depart),
    })),
  };
}

/** Nobody reads seconds of lateness, and a row that changes every second goes out every second. */
const wholeMinutes = (seconds: number): number => Math.trunc(seconds / 60) * 60;

/** The calls of its working as run so far, in fast ms. */
export const runRow = (state: EngineState, index: number): RunView => ({
  train: index,
  calls: state.trains[index]!.calls.map(({ service, call, arrived, departed, delay }) => ({
    service,
    call,
    arrived,
    departed,
    delay: delay && { ...delay, lost: [...delay.lost] },
  })),
});

/** The ports by which the way enters and leaves the element, in the direction of travel. */
function pathRow(layout: Layout, item: PathItem): TrainView['path'][number] {
  const { leg } = stepOf(layout, item);
  return {
    element: item.element,
    from: leg.from,
    to: leg.to,
    start: item.start,
    end: item.end,
  };
}

/** The estimate in whole mm and mm/s; the acceleration is the train's measured one, negative when braking. */
function motionRow({ reckoning }: TrainState, stock: Train): TrainView['motion'] {
  const { position, speed, target, since } = reckoning.nominal;
  return {
    head: Math.round(position / 1000),
    speed: Math.round(speed / 1000),
    target: Math.round(target / 1000),
    acceleration: accelerationTowards(target, speed, stock),
    since,
  };
}

function accelerationTowards(target: number, speed: number, stock: Train): number {
  if (target === speed) return 0;
  return target > speed ? stock.acceleration : -stock.braking;
}

import { delayWeight, USUAL_CHOICES } from '@blockbell/planning';
import { delayFigures, type EngineState, type World } from '@blockbell/railway';
import { isWorkDone, Rehearsal, type RehearsalSetup } from '@blockbell/rehearsal';
import { LateDepartures, type Dispatching } from '@blockbell/rehearsals';
import { play } from '../play.js';
import { disturbancesOf } from './disturbances.js';
import { Forecasts, type ForecastErrors } from './forecasts.js';

/** What a session came to. */
export interface Outcome {
  /** Sum over all arrivals at booked stops: fast-clock minutes late × weight of the train. */
  readonly weightedDelay: number;
  /** Of that lateness, unweighted, fast ms: what services lost by themselves, and in waiting for other trains. */
  readonly own: number;
  readonly knockOn: number;
  /** Whether every service arrived at its last call. */
  readonly complete: boolean;
  /** Routes taken while a plan had a next step for the train: that one and in the plan's order; or not. */
  readonly asPlanned: number;
  readonly otherThanPlanned: number;
  readonly errors: ForecastErrors;
}

/** How much longer than booked a session may take, physical ms. */
const PATIENCE = 60 * 60_000;
const MINUTE = 60_000;

/** Runs a session with the disturbances of a seed; `disturbed` false: with none. */
export function disturbedSession(
  subject: RehearsalSetup,
  dispatching: Dispatching,
  seed: number,
  disturbed = true,
): Outcome {
  const rehearsal = new Rehearsal({
    ...subject,
    seed,
    ...(dispatching === 'plan' ? { planning: USUAL_CHOICES } : { precedence: dispatching }),
  });
  const { world } = rehearsal;
  const { faults, lateDepartures } = disturbancesOf(world, seed);
  if (disturbed) for (const fault of faults) rehearsal.simulated.injectFault(fault);
  const crews = new LateDepartures(rehearsal, disturbed ? lateDepartures : []);
  const forecasts = new Forecasts(rehearsal);
  const { start, end, ratio } = world.timetable;
  const longest = (end - start) / ratio + PATIENCE;
  play(rehearsal, longest, () => crews.look());
  const { counts, trains } = rehearsal.state;
  const { own, knockOn } = delayFigures(
    world.layout,
    world.timetable,
    trains.map(({ calls }) => calls),
  );
  return {
    own,
    knockOn,
    weightedDelay: weightedDelay(world, rehearsal.state),
    complete: isWorkDone(rehearsal.state),
    asPlanned: counts.asPlanned,
    otherThanPlanned: counts.otherThanPlanned,
    errors: forecasts.errors(),
  };
}

function weightedDelay({ timetable, stock }: World, { trains }: EngineState): number {
  let sum = 0;
  trains.forEach(({ calls }, train) => {
    const weight = delayWeight(stock.trains[train]!.file.priority);
    for (const { service, call, arrived } of calls) {
      const { arrive, stops } = timetable.services[service]!.calls[call]!;
      if (arrive === null || arrived === null || !stops) continue;
      sum += (weight * Math.max(0, arrived - arrive)) / MINUTE;
    }
  });
  return sum;
}

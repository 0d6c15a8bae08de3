import { isCancelled, type EngineState, type World } from '@blockbell/railway';
import { delayWeight } from '@blockbell/planning';
import { arrivalsOf, type Arrivals } from './arrivals.js';

/** Lateness of booked arrivals together, fast ms; `weighted` counts each by its train's priority as plans do. */
export interface Lateness {
  readonly total: number;
  readonly weighted: number;
}

/**
 * Lateness of all arrivals booked until then that there had not been before; one that has not come by then is as late as it is
 * then, one whose service is cancelled counts for nothing. Early arrivals make up for nothing.
 */
export function latenessUntil(
  world: World,
  had: Arrivals,
  state: EngineState,
  until: number,
): Lateness {
  const arrivals = arrivalsOf(state);
  const { workings, services } = world.timetable;
  let total = 0;
  let weighted = 0;
  workings.forEach((working, train) => {
    const weight = delayWeight(world.stock.trains[train]!.file.priority);
    for (const service of working?.services ?? []) {
      if (isCancelled({ state }, service)) continue;
      services[service]!.calls.forEach(({ arrive }, call) => {
        const key = `${train} ${service} ${call}`;
        if (arrive === null || arrive > until || had.has(key)) return;
        const late = Math.max(0, Math.round((arrivals.get(key)?.at ?? until) - arrive));
        total += late;
        weighted += late * weight;
      });
    }
  });
  return { total, weighted };
}

import {
  explainWait,
  hasRun,
  isCancelled,
  type CallRecord,
  type EngineState,
  type World,
} from '@blockbell/railway';

export interface ServiceNotRun {
  readonly service: string;
  /** Null: it names none, and none was found. */
  readonly train: string | null;
  /** Why its train stands, ending in a cause. */
  readonly why: readonly string[];
}

/** How a service arrived at its last call: fast-clock ms later than booked, below zero when early. */
export interface ServiceArrival {
  readonly service: string;
  readonly train: string;
  readonly late: number;
}

export interface ServicesRun {
  /** Without those that were cancelled. */
  readonly planned: number;
  readonly run: number;
  readonly notRun: readonly ServiceNotRun[];
}

/** How arrivals compare with their booked times; lateness in fast-clock ms, early arrivals below zero. */
export interface Punctuality {
  readonly arrivals: number;
  /** Not more than a fast-clock minute late. */
  readonly onTime: number;
  readonly mean: number;
  readonly greatest: number;
}

const MINUTE = 60_000;

/** Which services ran from their first call to their last. */
export function servicesRun(world: World, state: EngineState): ServicesRun {
  const notRun: ServiceNotRun[] = [];
  let planned = 0;
  world.timetable.workings.forEach((working, train) => {
    if (working === null) return;
    for (const service of working.services) {
      if (isCancelled({ state }, service)) continue;
      planned++;
      if (hasRun(world.timetable, service, state.trains[train]!.calls)) continue;
      notRun.push({
        service: world.timetable.services[service]!.file.name,
        train: world.stock.trains[train]!.file.label,
        why: explainWait(world, state, train),
      });
    }
  });
  state.staging.open.forEach((run, index) => {
    if (run.kind === 'given') return;
    planned++;
    const service = world.timetable.openServices[index]!.file.name;
    notRun.push({ service, train: null, why: run.why === null ? [] : [run.why] });
  });
  return { planned, run: planned - notRun.length, notRun };
}

/** Every service that arrived at its last call, by train and then in the order it runs them. */
export function arrivalsAtLastCall(world: World, state: EngineState): ServiceArrival[] {
  return world.timetable.workings.flatMap((working, train) =>
    (working?.services ?? []).flatMap((service) => {
      const { file, calls } = world.timetable.services[service]!;
      const record = state.trains[train]!.calls.find(
        (each) => each.service === service && each.call === calls.length - 1,
      );
      const late = record === undefined ? null : lateness(world, record);
      const { label } = world.stock.trains[train]!.file;
      return late === null ? [] : [{ service: file.name, train: label, late }];
    }),
  );
}

export function punctuality(world: World, state: EngineState): Punctuality {
  const late = state.trains.flatMap(({ calls }) =>
    calls.flatMap((record) => lateness(world, record) ?? []),
  );
  const sum = late.reduce((total, value) => total + value, 0);
  return {
    arrivals: late.length,
    onTime: late.filter((value) => value <= MINUTE).length,
    mean: late.length === 0 ? 0 : Math.round(sum / late.length),
    greatest: late.reduce((most, value) => Math.max(most, value), 0),
  };
}

/** How late a train arrived at a call, fast ms; null where no arrival is booked, or none has happened. */
function lateness(world: World, { service, call, arrived }: CallRecord): number | null {
  const booked = world.timetable.services[service]?.calls[call]?.arrive ?? null;
  return booked === null || arrived === null ? null : Math.round(arrived - booked);
}

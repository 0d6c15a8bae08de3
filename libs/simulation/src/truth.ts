import type { ElementIndex, LocomotiveId, TrainIndex } from '@blockbell/railway/track';
import type { Body, FaultState, Incident, Simulation } from './state.js';
import { coveredOf, extentAt, wayAt } from './train/body.js';
import { speedAt } from './train/motion.js';

/** A place on the track, measured from the `from` port of the element's leg, mm. */
export interface TruthPlace {
  readonly element: ElementIndex;
  /** Index into the element's legs. */
  readonly leg: number;
  readonly offset: number;
}

/** A part of an element that a train stands on, measured from the leg's `from` port, mm. */
export interface TruthStretch {
  readonly element: ElementIndex;
  readonly leg: number;
  readonly from: number;
  readonly to: number;
}

/** A train as it really is, or cars it left behind. */
export interface TruthTrain {
  readonly train: TrainIndex;
  readonly leftBehind: boolean;
  readonly front: TruthPlace;
  /** The port that lies ahead of the front on its element. */
  readonly towards: string;
  readonly rear: TruthPlace;
  /** The train that hangs on behind it, which is not there by itself then; null: none. */
  readonly carries: TrainIndex | null;
  /** mm/s, positive front first. */
  readonly speed: number;
  /** mm/s² at this moment. */
  readonly acceleration: number;
  /** All it stands on, from front to rear. */
  readonly stretches: readonly TruthStretch[];
}

/** The truth, to look at only: for checking from outside. As of the moment the simulation has reached. */
export interface Truth {
  /** ms. */
  readonly now: number;
  /** All trains on the layout, then cars left behind. */
  trains(): readonly TruthTrain[];
  /** One train; null while it isn't on the layout. */
  train(train: TrainIndex): TruthTrain | null;
  /** Null where nothing is driven. `moving` is where it is going. */
  drive(
    element: ElementIndex,
  ): { readonly position: string; readonly moving: string | null } | null;
  /** Whether axles are in the section, and which locomotives, whatever its detector says. */
  section(section: number): {
    readonly occupied: boolean;
    readonly locomotives: readonly LocomotiveId[];
  };
  powered(district: number): boolean;
  readonly incidents: readonly Incident[];
  readonly faults: readonly Pick<FaultState, 'fault' | 'active' | 'ended'>[];
}

export function truthOf(simulation: Simulation): Truth {
  const { state, world } = simulation;
  return {
    get now() {
      return state.now;
    },
    trains: () =>
      state.bodies.filter((body) => body.present).map((body) => viewOf(simulation, body)),
    train: (train) => {
      const body = state.bodies[train];
      return body?.present === true ? viewOf(simulation, body) : null;
    },
    drive: (element) => {
      const drive = state.drives[element] ?? null;
      return drive === null ? null : { position: drive.position, moving: drive.moving };
    },
    section: (section) => {
      const { axles, locomotives } = state.sections[section]!;
      return {
        occupied: axles > 0,
        locomotives: locomotives.map(({ index }) => world.locomotives[index]!.file.id),
      };
    },
    powered: (district) => state.districts[district]!.powered,
    incidents: state.incidents,
    faults: state.faults,
  };
}

function viewOf(simulation: Simulation, body: Body): TruthTrain {
  const { now } = simulation.state;
  const extent = extentAt(body, now);
  const stretches = body.ways.map((_, step): TruthStretch => {
    const way = wayAt(simulation, body, step);
    const covered = coveredOf(way, body.starts[step]!, extent);
    return { element: way.element, leg: way.leg, ...covered };
  });
  stretches.reverse();
  const foremost = wayAt(simulation, body, body.ways.length - 1);
  const rearmost = wayAt(simulation, body, 0);
  const first = stretches[0]!;
  const last = stretches.at(-1)!;
  return {
    train: body.train,
    leftBehind: body.leftBehind,
    front: {
      element: foremost.element,
      leg: foremost.leg,
      offset: foremost.along ? first.to : first.from,
    },
    towards: foremost.exit,
    rear: {
      element: rearmost.element,
      leg: rearmost.leg,
      offset: rearmost.along ? last.from : last.to,
    },
    carries: body.hung,
    speed: speedAt(body.motion, now),
    acceleration: now < body.motion.until ? body.motion.acceleration : 0,
    stretches,
  };
}

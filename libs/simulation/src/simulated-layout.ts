import type { DeviceCommand, Heading, Layout, Stock } from '@blockbell/railway/track';
import { peek, pop, push } from './event-queue.js';
import type { Fault } from './faults/fault.js';
import { beginFault, endFault, scriptFault } from './faults/happen.js';
import type { Delivery, Due, Simulation, SimulationState } from './state.js';
import { replan } from './train/plan.js';
import { runBody } from './train/running.js';
import { truthOf } from './truth.js';
import type { Truth } from './truth.js';
import { noticeSilence } from './wayside/buses.js';
import { arriveDrive, setDrive } from './wayside/drives.js';
import { deliverSection } from './wayside/messages.js';
import { switchPower } from './wayside/power.js';
import { settleSections } from './wayside/sections.js';
import { announce, buildState, buildWorld } from './world.js';

export interface SimulationSetup {
  readonly layout: Layout;
  readonly stock: Stock;
  /** By train: the block and direction its front stands in, at the stop mark; null: not on the layout. */
  readonly places: readonly (Heading | null)[];
  /** Any integer; the same seed, commands and faults give the same events to the byte. */
  readonly seed: number;
  readonly faults?: readonly Fault[];
}

/** A layout that isn't there, behind the device port. Time is what its caller says; it never runs back. */
export interface SimulatedLayout {
  /** Carries out a command at `at` ms, not before the moment reached. Unknown addresses are nobody's: nothing happens. */
  command(at: number, command: DeviceCommand): void;
  /** When something happens next inside, in whole ms; null if nothing ever will. Ask again after each command. */
  nextAt(): number | null;
  /** Lets time pass until `to` and hands out what the layout said since the last call, in order. */
  advance(to: number): readonly Delivery[];
  /** Scripts one more fault; returns its number. */
  injectFault(fault: Fault): number;
  /** Mends a fault at `at` ms, now or later, by its number; those given at the start are numbered in their order. */
  mend(fault: number, at: number): void;
  readonly truth: Truth;
  /** Everything that changes, as plain data to copy or to write as JSON. */
  readonly state: SimulationState;
}

const NOTHING: readonly Delivery[] = [];

export function createSimulatedLayout(setup: SimulationSetup): SimulatedLayout {
  const world = buildWorld(setup.layout, setup.stock);
  const state = buildState(world, setup.places, setup.seed);
  const simulated = open({ world, state }, setup.seed);
  for (const fault of setup.faults ?? []) simulated.injectFault(fault);
  return simulated;
}

/** Goes on from a copied state, on the same layout with the same stock and seed. */
export function resumeSimulatedLayout(
  setup: Pick<SimulationSetup, 'layout' | 'stock' | 'seed'>,
  state: SimulationState,
): SimulatedLayout {
  return open({ world: buildWorld(setup.layout, setup.stock), state }, setup.seed);
}

/** Behind the device port, from the state it is in. */
export function open(simulation: Simulation, seed: number): SimulatedLayout {
  const { state } = simulation;
  return {
    command: (at, command) => {
      runTo(simulation, at);
      obey(simulation, command);
      settle(simulation);
    },
    nextAt: () => {
      const next = peek(state.queue);
      return next === null ? null : Math.ceil(next.at);
    },
    advance: (to) => {
      runTo(simulation, to);
      return state.delivered.length === 0 ? NOTHING : state.delivered.splice(0);
    },
    injectFault: (fault) => scriptFault(simulation, fault, seed),
    mend: (fault, at) => {
      if (at > state.now) {
        push(state.queue, { at, kind: 'fault-ends', fault });
        return;
      }
      endFault(simulation, fault);
      settle(simulation);
    },
    truth: truthOf(simulation),
    state,
  };
}

function runTo(simulation: Simulation, to: number): void {
  const { state } = simulation;
  if (to < state.now) throw new RangeError(`time does not run back: ${to} after ${state.now}`);
  for (let next = peek(state.queue); next !== null && next.at <= to; next = peek(state.queue)) {
    pop(state.queue);
    if (isVoid(simulation, next)) continue;
    state.now = next.at;
    happen(simulation, next);
    settleSections(simulation);
  }
  state.now = to;
  settle(simulation);
}

/** Leaves nothing half done: what detectors saw is on its way, and nothing void stands first in the queue. */
function settle(simulation: Simulation): void {
  const { queue } = simulation.state;
  settleSections(simulation);
  for (let next = peek(queue); next !== null && isVoid(simulation, next); next = peek(queue)) {
    pop(queue);
  }
}

function isVoid({ state }: Simulation, due: Due): boolean {
  switch (due.kind) {
    case 'body':
      return state.bodies[due.body]!.plan !== due.plan;
    case 'drive':
      return state.drives[due.element]?.move !== due.move;
    case 'edges':
    case 'reports': {
      const first = state.sections[due.section]![due.kind][0];
      return first === undefined || first.at > due.at;
    }
    default:
      return false;
  }
}

function happen(simulation: Simulation, due: Due): void {
  const { state } = simulation;
  switch (due.kind) {
    case 'body':
      runBody(simulation, state.bodies[due.body]!);
      return;
    case 'edges':
    case 'reports':
      deliverSection(simulation, due.section, due.kind);
      return;
    case 'message':
      state.delivered.push({ at: due.at, event: due.event });
      return;
    case 'drive':
      arriveDrive(simulation, due.element);
      return;
    case 'silence-noticed':
      noticeSilence(simulation, due.bus, due.fault);
      return;
    case 'fault-begins':
      beginFault(simulation, due.fault);
      return;
    case 'fault-ends':
      endFault(simulation, due.fault);
  }
}

function obey(simulation: Simulation, command: DeviceCommand): void {
  const { state, world } = simulation;
  switch (command.kind) {
    case 'set-drive':
      setDrive(simulation, command.element, command.position);
      return;
    case 'set-speed': {
      const { kind, number } = command.address;
      const index = world.locomotiveByAddress.get(`${kind}:${number}`);
      if (index === undefined) return;
      state.locomotives[index]!.command = { forward: command.forward, step: command.step };
      const { train } = world.locomotives[index]!;
      for (const body of state.bodies)
        if (body.train === train || body.hung === train) replan(simulation, body);
      return;
    }
    case 'stop-all':
      for (const locomotive of state.locomotives) {
        const forward = locomotive.command?.forward ?? true;
        locomotive.command = { forward, step: 0 };
      }
      for (const body of state.bodies) replan(simulation, body);
      return;
    case 'set-power':
      switchPower(simulation, command.district, command.on);
      return;
    case 'ask-state':
      announce(simulation);
      return;
    case 'set-aspect':
      // A signal is a lamp: nothing on the track depends on it.
      return;
  }
}

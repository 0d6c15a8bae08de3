import { push } from '../event-queue.js';
import { forkStream } from '../random.js';
import type { Body, Simulation } from '../state.js';
import { carrierOf, couple, part } from '../train/coupling.js';
import { replan } from '../train/plan.js';
import { leaveCars, lift, setDown } from '../train/placing.js';
import { reviveBus, silenceBus } from '../wayside/buses.js';
import { settlePower, trip } from '../wayside/power.js';
import { touchSection } from '../wayside/sections.js';
import type { Fault, SectionFault, TrainFault } from './fault.js';

/** Enters a fault in the script; what it happens to must exist. Returns its number. */
export function scriptFault(simulation: Simulation, fault: Fault, seed: number): number {
  const { state } = simulation;
  checkTarget(simulation, fault);
  const index = state.faults.length;
  const stream = forkStream(seed, `fault ${index} ${fault.kind}`);
  state.faults.push({ fault, active: false, ended: false, stream });
  push(state.queue, { at: Math.max(fault.at, state.now), kind: 'fault-begins', fault: index });
  return index;
}

/** The fault happens; one that lasts gets its end. */
export function beginFault(simulation: Simulation, index: number): void {
  const { state } = simulation;
  const it = state.faults[index]!;
  if (it.ended) return;
  const { fault } = it;
  it.active = true;
  apply(simulation, index, fault, 1);
  if (!('duration' in fault)) {
    it.active = false;
    it.ended = true;
  } else if (fault.duration !== null) {
    push(state.queue, { at: state.now + fault.duration, kind: 'fault-ends', fault: index });
  }
}

/** The fault is mended, or over. One that has not happened yet never will. */
export function endFault(simulation: Simulation, index: number): void {
  const it = simulation.state.faults[index];
  if (it === undefined) throw new RangeError(`no fault ${index}`);
  if (it.ended) return;
  it.ended = true;
  if (!it.active) return;
  it.active = false;
  apply(simulation, index, it.fault, -1);
}

function apply(simulation: Simulation, index: number, fault: Fault, change: 1 | -1): void {
  const { state, world } = simulation;
  switch (fault.kind) {
    case 'dropout':
    case 'stuck-detector':
    case 'misread':
      applyToSection(simulation, fault, change);
      return;
    case 'late':
    case 'lost':
    case 'duplicated':
    case 'reordered':
      return;
    case 'bus-silence': {
      const bus = world.layout.file.buses.findIndex(({ id }) => id === fault.bus);
      if (change === 1) silenceBus(simulation, bus, index);
      else reviveBus(simulation, bus);
      return;
    }
    case 'silent-decoder': {
      const { kind, number } = fault.address;
      const locomotive = world.locomotiveByAddress.get(`${kind}:${number}`)!;
      state.locomotives[locomotive]!.silenced += change;
      state.sections.forEach((section, place) => {
        if (section.locomotives.some((it) => it.index === locomotive)) {
          touchSection(simulation, place);
        }
      });
      return;
    }
    case 'stall':
    case 'run-on':
    case 'runaway':
    case 'slip':
    case 'lost-cars':
    case 'cars-lifted':
    case 'coupled':
    case 'hand-moved':
      applyToTrain(simulation, index, fault, change);
      return;
    case 'stuck-drive':
      state.drives[fault.element]!.stuck += change;
      return;
    case 'power-loss': {
      const district = state.districts[fault.district]!;
      district.losses += change;
      if (district.commanded) settlePower(simulation, fault.district);
      return;
    }
    case 'short':
      state.districts[fault.district]!.bridged += change;
      if (change === 1) trip(simulation, fault.district);
  }
}

function applyToSection(simulation: Simulation, fault: SectionFault, change: 1 | -1): void {
  const section = simulation.state.sections[fault.section]!;
  if (fault.kind === 'dropout') section.dropouts += change;
  else if (fault.kind === 'stuck-detector') section.stuck += change;
  else section.misread = change === 1 ? fault.as : null;
  touchSection(simulation, fault.section);
}

function applyToTrain(
  simulation: Simulation,
  index: number,
  fault: TrainFault,
  change: 1 | -1,
): void {
  const body: Body = simulation.state.bodies[fault.train]!;
  switch (fault.kind) {
    case 'stall':
      body.stalls += change;
      break;
    case 'run-on':
      body.runOnPermille = change === 1 ? fault.permille : 1000;
      break;
    case 'runaway':
      body.runaway = change === 1 ? fault.speed : null;
      break;
    case 'slip':
      body.slipPermille = change === 1 ? fault.permille : 1000;
      break;
    case 'lost-cars':
      leaveCars(simulation, body, fault.length, index);
      return;
    case 'cars-lifted':
      for (const each of simulation.state.bodies) {
        if (each.leftBehind && each.train === fault.train) lift(simulation, each);
      }
      return;
    case 'coupled':
      couple(simulation, body, simulation.state.bodies[fault.other]!, index);
      return;
    case 'hand-moved':
      part(simulation, carrierOf(simulation, body) ?? body, index);
      lift(simulation, body);
      if (fault.to === null) return;
      body.placedBy = index;
      setDown(simulation, body, fault.to);
      return;
  }
  replan(simulation, body);
}

function checkTarget({ state, world }: Simulation, fault: Fault): void {
  const { layout, stock } = world;
  const known = (): boolean => {
    switch (fault.kind) {
      case 'dropout':
      case 'stuck-detector':
      case 'misread':
        return layout.sections[fault.section] !== undefined;
      case 'late':
      case 'lost':
      case 'duplicated':
      case 'reordered':
        return fault.section === null || layout.sections[fault.section] !== undefined;
      case 'bus-silence':
        return layout.file.buses.some(({ id }) => id === fault.bus);
      case 'silent-decoder':
        return world.locomotiveByAddress.has(`${fault.address.kind}:${fault.address.number}`);
      case 'stuck-drive':
        return (state.drives[fault.element] ?? null) !== null;
      case 'power-loss':
      case 'short':
        return state.districts[fault.district] !== undefined;
      case 'coupled':
        return [fault.train, fault.other].every((train) => stock.trains[train] !== undefined);
      default:
        return stock.trains[fault.train] !== undefined;
    }
  };
  if (!known())
    throw new RangeError(`fault ${fault.kind}: what it should happen to does not exist`);
}

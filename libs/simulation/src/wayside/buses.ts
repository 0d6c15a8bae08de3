import { push } from '../event-queue.js';
import { nextBetween } from '../random.js';
import type { Simulation } from '../state.js';
import { sendAt } from './messages.js';
import { settleOnline } from './power.js';

/** Longest time until a returned bus is told alive, ms. */
const TOLD_WITHIN = 20;

/** A bus falls silent: nothing comes from its sections, and the silence is noticed in its time. */
export function silenceBus(simulation: Simulation, bus: number, fault: number): void {
  const { state, world } = simulation;
  const it = state.buses[bus]!;
  const { noticedWithin } = world.layout.file.buses[bus]!.silence;
  it.silences += 1;
  const at = nextBetween(it.stream, Math.ceil(state.now), Math.floor(state.now + noticedWithin));
  push(state.queue, { at, kind: 'silence-noticed', bus, fault });
  settleBus(simulation, bus, at);
}

/** The poll or the missing heartbeat tells; a silence that is over by then goes unnoticed. */
export function noticeSilence(simulation: Simulation, bus: number, fault: number): void {
  const { state, world } = simulation;
  const it = state.buses[bus]!;
  if (!state.faults[fault]!.active || it.reportedSilent) return;
  it.reportedSilent = true;
  sendAt(simulation, state.now, {
    kind: 'bus',
    bus: world.layout.file.buses[bus]!.id,
    alive: false,
  });
}

/** The bus speaks again, and its sections tell their state. */
export function reviveBus(simulation: Simulation, bus: number): void {
  const { state, world } = simulation;
  const it = state.buses[bus]!;
  it.silences -= 1;
  if (it.silences > 0) return;
  const at = Math.ceil(state.now) + nextBetween(it.stream, 1, TOLD_WITHIN);
  if (it.reportedSilent) {
    sendAt(simulation, at, { kind: 'bus', bus: world.layout.file.buses[bus]!.id, alive: true });
  }
  it.reportedSilent = false;
  settleBus(simulation, bus, at);
}

function settleBus(simulation: Simulation, bus: number, from: number): void {
  const { sections, file } = simulation.world.layout;
  sections.forEach((section, index) => {
    if (section.bus === file.buses[bus]) settleOnline(simulation, index, from);
  });
}

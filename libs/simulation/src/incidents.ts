import type { ElementIndex, TrainIndex } from '@blockbell/railway/track';
import type { Fault } from './faults/fault.js';
import type { Body, Incident, IncidentKind, Simulation } from './state.js';

/** Writes down what must never happen, with the faults that may excuse it. */
export function recordIncident(
  simulation: Simulation,
  kind: IncidentKind,
  element: ElementIndex,
  bodies: readonly Body[],
  detail: string,
): void {
  const { state } = simulation;
  const trains = bodies.map(({ train }) => train);
  const causes: Incident['causes'][number][] = [];
  state.faults.forEach(({ fault, active }, index) => {
    const places = bodies.some(({ placedBy }) => placedBy === index);
    if (places || (active && touches(simulation, fault, trains, element))) {
      causes.push({ fault: index, kind: fault.kind });
    }
  });
  state.incidents.push({ kind, at: Math.ceil(state.now), element, trains, detail, causes });
}

function touches(
  { world }: Simulation,
  fault: Fault,
  trains: readonly TrainIndex[],
  element: ElementIndex,
): boolean {
  const sections = world.layout.elements[element]?.sections ?? [];
  switch (fault.kind) {
    case 'dropout':
    case 'stuck-detector':
    case 'misread':
      return sections.includes(fault.section);
    case 'late':
    case 'lost':
    case 'duplicated':
    case 'reordered':
      return fault.section === null || sections.includes(fault.section);
    case 'bus-silence':
      return sections.some((index) => world.layout.sections[index]?.bus.id === fault.bus);
    case 'silent-decoder': {
      const { kind, number } = fault.address;
      const index = world.locomotiveByAddress.get(`${kind}:${number}`);
      return index !== undefined && trains.includes(world.locomotives[index]!.train);
    }
    case 'stall':
    case 'run-on':
    case 'runaway':
    case 'slip':
    case 'lost-cars':
    case 'cars-lifted':
    case 'hand-moved':
      return trains.includes(fault.train);
    case 'coupled':
      return trains.includes(fault.train) || trains.includes(fault.other);
    case 'stuck-drive':
      return fault.element === element;
    case 'power-loss':
    case 'short':
      return sections.some((index) => world.layout.sections[index]?.district === fault.district);
  }
}

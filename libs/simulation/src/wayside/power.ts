import { nextBetween } from '../random.js';
import type { DistrictState, Simulation } from '../state.js';
import { wayAt } from '../train/body.js';
import { replan } from '../train/plan.js';
import { isMatched } from './drives.js';
import { sendAt } from './messages.js';
import { goOffline, goOnline } from './sections.js';

/** Longest time from a district's change to its message, ms. */
const TOLD_WITHIN = 20;

/** A command: switches a district on or off. Over a wrong polarity or a bridged rail it trips at once. */
export function switchPower(simulation: Simulation, district: number, on: boolean): void {
  const it = districtOf(simulation, district);
  it.commanded = on;
  it.shorted = on && (it.bridged > 0 || polarityClashes(simulation, district));
  settlePower(simulation, district);
}

/** Something bridges the rails: the district trips. One that isn't fed has nothing to trip. */
export function trip(simulation: Simulation, district: number): void {
  const it = districtOf(simulation, district);
  if (!it.powered) return;
  it.shorted = true;
  settlePower(simulation, district);
}

/** Works out whether a district is fed, tells it, and lets trains and detectors feel it. */
export function settlePower(simulation: Simulation, district: number): void {
  const { state, world } = simulation;
  const it = districtOf(simulation, district);
  it.powered = it.commanded && it.losses === 0 && !it.shorted;
  const toldAt = tell(simulation, district, it);
  world.layout.sections.forEach((section, index) => {
    if (section.district === district) settleOnline(simulation, index, toldAt);
  });
  for (const body of state.bodies) {
    const draws = (body.coasting === null) !== it.powered;
    if (body.district === district && draws) replan(simulation, body);
  }
}

function tell(simulation: Simulation, district: number, it: DistrictState): number {
  const { now } = simulation.state;
  const at = Math.ceil(now) + nextBetween(it.stream, 1, TOLD_WITHIN);
  it.lastMessage = Math.max(at, it.lastMessage);
  const state = it.shorted ? 'short' : it.powered ? 'on' : 'off';
  sendAt(simulation, it.lastMessage, { kind: 'power', district, state });
  return it.lastMessage;
}

/** A section speaks while its district is fed and its bus alive; when it begins to, it tells its state from `from` on. */
export function settleOnline(simulation: Simulation, index: number, from: number): void {
  const { state, world } = simulation;
  const section = world.layout.sections[index]!;
  const bus = world.layout.file.buses.indexOf(section.bus);
  const online = state.districts[section.district]!.powered && state.buses[bus]!.silences === 0;
  if (online === state.sections[index]!.online) return;
  if (online) goOnline(simulation, index, from);
  else goOffline(simulation, index);
}

/** Whether a train bridges a gap between rails of unlike polarity, fed by the district. */
function polarityClashes(simulation: Simulation, district: number): boolean {
  return simulation.state.bodies.some(
    (body) =>
      body.present &&
      body.ways.some((_, step) => {
        const way = wayAt(simulation, body, step);
        const bridges = step < body.ways.length - 1 ? (way.next?.gaps ?? []) : [];
        return (
          bridges.some((gap) => !isMatched(simulation, gap)) &&
          districtAt(simulation, way.next!.element) === district
        );
      }),
  );
}

/** The district that feeds an element; −1 where no section tells. */
export function districtAt({ world }: Simulation, element: number): number {
  const section = world.layout.elements[element]?.sections[0];
  return section === undefined ? -1 : world.layout.sections[section]!.district;
}

const districtOf = ({ state }: Simulation, district: number): DistrictState => {
  const it = state.districts[district];
  if (it === undefined) throw new RangeError(`no power district ${district}`);
  return it;
};

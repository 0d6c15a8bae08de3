import type {
  DecoderAddress,
  DeviceEvent,
  Layout,
  ReadDecoder,
  Stock,
} from '@blockbell/railway/track';
import { open, type SimulatedLayout } from './simulated-layout.js';
import type { Body, Simulation } from './state.js';
import { locatePoints, trimWays } from './train/body.js';
import { coverAll } from './train/coverage.js';
import { steady } from './train/motion.js';
import { replan } from './train/plan.js';
import { oppositeWay } from './track/ways.js';
import { chooseWay } from './wayside/drives.js';
import { settleSections, touchSection } from './wayside/sections.js';
import { sendAt } from './wayside/messages.js';
import { bareState, buildWorld } from './world.js';

/** A layout as somebody believes it to be at a moment, trains under way included. */
export interface PresumedLayout {
  readonly layout: Layout;
  readonly stock: Stock;
  /** For the delays of messages; trains run as measured. */
  readonly seed: number;
  /** Physical ms. */
  readonly now: number;
  /** By train; null: not on the layout. */
  readonly trains: readonly (PresumedTrain | null)[];
  /** By element: how its drive lies, and whether it obeys; null where nothing is driven or nothing is known. */
  readonly drives: readonly (PresumedDrive | null)[];
  /** By section: what its detector said last. */
  readonly sections: readonly ToldSection[];
  /** By district: whether it is fed. */
  readonly districts: readonly boolean[];
  /** By bus of the layout file: whether it lives. */
  readonly buses: readonly boolean[];
}

export interface PresumedTrain {
  /** The way under it and, as far as is known, behind it: rear to head in its direction of travel, each leg by its ports. */
  readonly way: readonly { readonly element: number; readonly from: string; readonly to: string }[];
  /** mm from the beginning of that way to its head. */
  readonly head: number;
  readonly frontLeads: boolean;
  /** Of its head, mm/s. */
  readonly speed: number;
  readonly commands: readonly PresumedCommand[];
}

/** What a locomotive was told last. */
export interface PresumedCommand {
  readonly address: DecoderAddress;
  readonly forward: boolean;
  readonly step: number;
}

export interface PresumedDrive {
  readonly position: string;
  /** It was told to go there and has not said yet that it lies there: it says so soon. */
  readonly awaited: boolean;
  readonly stuck: boolean;
}

export interface ToldSection {
  readonly occupied: boolean;
  /** Occupied by something that is no train of which anybody knows: it stays. */
  readonly strange: boolean;
  readonly decoders: readonly ReadDecoder[];
  readonly crowded: boolean;
}

/** Longest until a drive that was awaited says how it lies, ms: most of them have thrown for a while already. */
const AWAITED = 300;

/**
 * A simulated layout that begins as believed: whatever its detectors would say otherwise than they last did, they say after
 * their delay. Nothing goes wrong on it, and its locomotives run as they were measured.
 */
export function presumeLayout(presumed: PresumedLayout): SimulatedLayout {
  const world = buildWorld(presumed.layout, presumed.stock);
  const state = bareState(world, presumed.seed);
  const simulation: Simulation = { world, state };
  state.now = presumed.now;
  for (const locomotive of state.locomotives) Object.assign(locomotive, AS_MEASURED);
  state.districts.forEach((district, index) => {
    district.commanded = presumed.districts[index]!;
    district.powered = district.commanded;
  });
  state.buses.forEach((bus, index) => {
    if (presumed.buses[index]!) return;
    bus.silences = 1;
    bus.reportedSilent = true;
  });
  presumed.drives.forEach((drive, element) => drive && lay(simulation, element, drive));
  presumed.trains.forEach(
    (train, index) => train && putDown(simulation, state.bodies[index]!, train),
  );
  presumed.sections.forEach((told, section) => hear(simulation, section, told));
  settleSections(simulation);
  return open(simulation, presumed.seed);
}

const AS_MEASURED = { speedFactor: 1, rateFactor: 1 };

function lay({ state, world }: Simulation, element: number, presumed: PresumedDrive): void {
  const drive = state.drives[element];
  const info = world.layout.elements[element]?.drive;
  if (!drive || !info) return;
  drive.position = presumed.position;
  if (presumed.stuck) drive.stuck = 1;
  if (!presumed.awaited || !info.feedback) return;
  const event: DeviceEvent = { kind: 'drive', element, position: presumed.position };
  sendAt({ state, world }, Math.ceil(state.now) + Math.min(AWAITED, info.throwTime), event);
}

/** Puts a body down where its train is believed to be, running as it was told to. */
function putDown(simulation: Simulation, body: Body, presumed: PresumedTrain): void {
  const { state, world } = simulation;
  for (const { address, forward, step } of presumed.commands) {
    const index = world.locomotiveByAddress.get(`${address.kind}:${address.number}`);
    if (index !== undefined) state.locomotives[index]!.command = { forward, step };
  }
  const ways = presumed.way.map(({ element, from, to }) => {
    const way = world.track.ways.find(
      (it) => it.element === element && it.entry === from && it.exit === to,
    );
    if (way === undefined) throw new RangeError(`element ${element} has no leg ${from}–${to}`);
    return way.index;
  });
  const starts: number[] = [];
  let end = 0;
  for (const way of ways) {
    starts.push(end);
    end += world.track.ways[way]!.length;
  }
  const { head, frontLeads } = presumed;
  if (frontLeads) {
    body.ways.push(...ways);
    body.starts.push(...starts);
  } else {
    // Its front is its tail: the same way run the other way, on an axis that rises towards the front.
    body.ways.push(...ways.map(oppositeWay).reverse());
    body.starts.push(
      ...ways.map((way, i) => -(starts[i]! + world.track.ways[way]!.length)).reverse(),
    );
  }
  const front = frontLeads ? head : body.length - head;
  reachBack(simulation, body, front);
  const speed = frontLeads ? presumed.speed : -presumed.speed;
  body.motion = steady(state.now, front, speed);
  body.present = true;
  locatePoints(simulation, body, front);
  trimWays(body);
  coverAll(simulation, body, 1);
  replan(simulation, body);
}

/** Whoever stands on more than was told stands where the drives lead to, at either end. */
function reachBack(simulation: Simulation, body: Body, front: number): void {
  const { world } = simulation;
  while (front - body.length < body.starts[0]!) {
    const exit = world.track.ways[oppositeWay(body.ways[0]!)]!.next;
    if (exit === null) break;
    const { way } = chooseWay(simulation, exit);
    body.starts.unshift(body.starts[0]! - way.length);
    body.ways.unshift(oppositeWay(way.index));
  }
  for (let end = endOf(world, body); front > end; end = endOf(world, body)) {
    const exit = world.track.ways[body.ways.at(-1)!]!.next;
    if (exit === null) break;
    body.starts.push(end);
    body.ways.push(chooseWay(simulation, exit).way.index);
  }
}

const endOf = (world: Simulation['world'], { starts, ways }: Body): number =>
  starts.at(-1)! + world.track.ways[ways.at(-1)!]!.length;

/** What the detector has said already; what it would say now is sent when all are looked at. */
function hear(simulation: Simulation, section: number, told: ToldSection): void {
  const { state, world } = simulation;
  const it = state.sections[section]!;
  const { district, bus } = world.layout.sections[section]!;
  const line = world.layout.file.buses.findIndex(({ id }) => id === bus.id);
  it.online = state.districts[district]!.powered && state.buses[line]?.silences === 0;
  it.seen = told.occupied;
  it.readable = { decoders: told.decoders, crowded: told.crowded };
  if (told.strange) it.stuck = 1;
  touchSection(simulation, section);
}

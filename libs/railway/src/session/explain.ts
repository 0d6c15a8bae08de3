import { formatClockText } from '../timetable/clock-text.js';
import { callBefore } from '../timetable/departure.js';
import { callTo } from '../timetable/legs.js';
import { fastNow } from '../timetable/fast-clock.js';
import { fastTime } from '../units.js';
import type { Layout } from '../layout/layout.js';
import type { EngineState } from './state.js';
import type { WaitReason } from './wait-reason.js';
import type { World } from './world.js';

const label = (world: World, train: number): string => world.stock.trains[train]!.file.label;
const elementId = (world: World, element: number): string => world.layout.elements[element]!.id;
const sectionId = (world: World, section: number): string => world.layout.sections[section]!.id;
const stationName = (world: World, station: number): string =>
  world.layout.stations[station]!.file.name;
const clock = (fast: number): string => formatClockText(fastTime(fast));

/** One reason as a sentence for a dispatcher. */
export function sentence(world: World, reason: WaitReason): string {
  switch (reason.kind) {
    case 'not-running':
      return 'the session lets no train leave now';
    case 'not-confirmed':
      return 'its place is not confirmed yet';
    case 'finished':
      return 'its work is done';
    case 'booked':
      return `it is booked to leave at ${clock(reason.depart)}`;
    case 'dwell':
      return `it dwells until about ${clock(reason.until)}`;
    case 'connection':
      return `it awaits ${world.timetable.services[reason.service]!.file.name}, until ${clock(reason.until)} at most`;
    case 'departures-held':
      return 'departures are held';
    case 'held-by-person':
      return 'the dispatcher holds it';
    case 'given-back':
      return 'its way was given back and is locked until it certainly stands';
    case 'in-hand':
      return 'its crew has it in hand and asks for no speed';
    case 'halted':
      return `it was stopped: ${reason.why}`;
    case 'identity':
      return 'it is not certain which train stands here; say which';
    case 'element-held':
      return `${elementId(world, reason.element)} on its way is held for ${label(world, reason.by)}`;
    case 'section-claimed':
      return `section ${sectionId(world, reason.section)} on its way is held for ${label(world, reason.by)}`;
    case 'section-occupied':
      return reason.belief === 'occupied'
        ? `section ${sectionId(world, reason.section)} on its way is occupied`
        : `nothing is known of section ${sectionId(world, reason.section)} on its way`;
    case 'possession':
      return `${elementId(world, reason.element)} is closed: ${reason.name}`;
    case 'turnout-failed':
      return `${elementId(world, reason.element)} on its way is not proven`;
    case 'turnout-moving':
      return `${elementId(world, reason.element)} is being set`;
    case 'own-tail':
      return `its own rear is not yet proven clear of ${elementId(world, reason.element)}`;
    case 'order-given':
      return `${label(world, reason.to)} goes first, as the dispatcher wishes`;
    case 'would-lock':
      return 'if it went now, the trains could no longer all finish';
    case 'searching':
      return 'whether it may go safely is being worked out';
    case 'search-exhausted':
      return 'whether it may go safely could not be worked out within the steps allowed';
    case 'gives-way':
      return `${label(world, reason.to)} has waited long and goes first`;
    case 'plan-order':
      return `${label(world, reason.to)} goes first by the plan`;
    case 'yard-full':
      return reason.until === null
        ? `the rules of ${stationName(world, reason.station)} find no track for it; choose one`
        : `the rules of ${stationName(world, reason.station)} find no track for it, and have it wait until ${clock(reason.until)}`;
    case 'not-asked-for':
      return `${stationName(world, reason.station)} has trains enough; it leaves when one is wanted, or at ${clock(reason.until)}`;
    case 'no-way':
      return 'no way from here leads on to its next call';
  }
}

/** Where a train stands or runs, in words. */
export function placeText(world: World, state: EngineState, index: number): string {
  const train = state.trains[index]!;
  if (train.activity.kind === 'absent') return 'not on the layout';
  const reached = train.path.findLast((item) => item.heading >= 0 && item.start <= train.edge);
  const item = reached ?? train.path.find((each) => each.heading >= 0);
  return item === undefined ? 'between blocks' : trackText(world.layout, item.element);
}

/** An element in words: the track of a station, a block by its name, or what it is and its id. */
export function trackText({ stations, elements }: Layout, element: number): string {
  for (const station of stations) {
    const track = station.tracks.find(({ blocks }) => blocks.includes(element));
    if (track !== undefined) return `${station.file.name} ${track.name}`;
  }
  const { file, id, kind } = elements[element]!;
  return file?.kind === 'block' && file.name !== undefined ? file.name : `${kind} ${id}`;
}

/** The same, and which slot of its track where that has several. */
export function slotText(layout: Layout, element: number): string {
  const isSlot = layout.stations.some(({ tracks }) =>
    tracks.some(({ blocks }) => blocks.length > 1 && blocks.includes(element)),
  );
  const text = trackText(layout, element);
  return isSlot ? `${text}, ${layout.elements[element]!.id}` : text;
}

export interface NextCall {
  readonly text: string;
  /** Index of the service it belongs to. */
  readonly service: number;
  /** Booked fast time, ms. */
  readonly fast: number;
  /** Fast seconds behind it now, or behind it when it left; never below 0 before the time has come. */
  readonly lateness: number;
}

/** The next thing booked for a train: a departure where it stands, else the arrival it runs to. */
export function nextCall(world: World, state: EngineState, index: number): NextCall | null {
  const train = state.trains[index]!;
  const to = callTo(world.graphs[index]!, train.leg);
  if (to === null || train.activity.kind === 'absent') return null;
  const fast = fastNow(state.session.clock, state.now);
  const before = callBefore(world, index, train.leg);
  if (train.arrivedAt !== null && before?.depart) {
    const lateness = Math.max(0, Math.floor((fast - before.depart) / 1000));
    return { text: 'departs', service: to.service, fast: before.depart, lateness };
  }
  const call = world.timetable.services[to.service]!.calls[to.call]!;
  const booked = call.arrive ?? call.depart;
  if (booked === null) return null;
  const name = world.layout.stations[call.station]!.file.name;
  const last = train.calls.at(-1);
  const left = last?.departed ?? null;
  const lateAtDeparture = left === null || !before?.depart ? 0 : left - before.depart;
  const lateness = Math.floor(Math.max(fast - booked, lateAtDeparture) / 1000);
  return { text: name, service: to.service, fast: booked, lateness };
}

import type { DecoderAddress } from '@blockbell/railway/track';
import type { SectionState, Simulation } from '../state.js';
import { sendFromSection, within } from './messages.js';
import type { Window } from './messages.js';

/**
 * A decoder tells its address in two parts, so two packets addressed to it must pass before it can be known: about
 * 12–21 ms (NMRA S-9.3.2, RCN-217; read in secondary texts). The longer is taken.
 */
export const LEAST_REPORT_DELAY = 21;

/** How long after power or bus came back a section has told its state. */
export const RESTATE_WITHIN = 100;

/** A stretch with axles came over a piece of the section (1) or left it (−1). */
export function countAxles(simulation: Simulation, section: number, change: 1 | -1): void {
  simulation.state.sections[section]!.axles += change;
  touchSection(simulation, section);
}

/** A locomotive came over a piece of the section (1) or left it (−1). */
export function countLocomotive(
  simulation: Simulation,
  section: number,
  index: number,
  change: 1 | -1,
): void {
  const { locomotives } = simulation.state.sections[section]!;
  const entry = locomotives.find((it) => it.index === index);
  if (entry === undefined) {
    locomotives.push({ index, pieces: change });
    locomotives.sort((left, right) => left.index - right.index);
  } else {
    entry.pieces += change;
    if (entry.pieces === 0) locomotives.splice(locomotives.indexOf(entry), 1);
  }
  touchSection(simulation, section);
}

/** Remembers that the section must be looked at when the present event has been dealt with. */
export function touchSection({ state }: Simulation, section: number): void {
  const it = state.sections[section]!;
  if (it.touched) return;
  it.touched = true;
  state.touchedSections.push(section);
}

/** Lets the detectors look: what changed is sent. */
export function settleSections(simulation: Simulation): void {
  const { touchedSections, sections } = simulation.state;
  for (const section of touchedSections) {
    sections[section]!.touched = false;
    settle(simulation, section);
  }
  touchedSections.length = 0;
}

function settle(simulation: Simulation, section: number): void {
  const { state, world } = simulation;
  const it = state.sections[section]!;
  if (!it.online) return;
  const { worstDelay } = world.layout.sections[section]!.detector;
  const seen = sees(it);
  if (seen !== it.seen) {
    it.seen = seen;
    const worst = seen ? worstDelay.occupied : worstDelay.free;
    sendEdge(simulation, section, within(state.now, worst));
  }
  const readable = readableIn(simulation, section);
  if (!sameDecoders(readable, it.readable)) {
    it.readable = readable;
    sendReport(simulation, section, within(state.now, worstDelay.report, LEAST_REPORT_DELAY));
  }
}

/** The section is fed and its bus alive again: it tells its state afresh, from `from` on. */
export function goOnline(simulation: Simulation, section: number, from: number): void {
  const { state } = simulation;
  const it = state.sections[section]!;
  it.online = true;
  it.seen = sees(it);
  it.readable = readableIn(simulation, section);
  const latest = Math.floor(state.now) + RESTATE_WITHIN;
  sendEdge(simulation, section, { earliest: from, latest });
  if (it.readable.length > 0) {
    const earliest = Math.max(from, Math.ceil(state.now) + LEAST_REPORT_DELAY);
    sendReport(simulation, section, { earliest, latest });
  }
}

/** Nothing leaves the section any more, nor what was on its way. */
export function goOffline({ state }: Simulation, section: number): void {
  const it = state.sections[section]!;
  it.online = false;
  it.edges.length = 0;
  it.reports.length = 0;
}

const sees = ({ stuck, dropouts, axles }: SectionState): boolean =>
  stuck > 0 || (axles > 0 && dropouts === 0);

/** The decoders the detector can tell apart now: none if there are more than it can read at once. */
function readableIn({ state, world }: Simulation, section: number): readonly DecoderAddress[] {
  const { detector } = world.layout.sections[section]!;
  if (!detector.reportsIdentity) return [];
  const { misread, locomotives } = state.sections[section]!;
  if (misread !== null) return [misread];
  const answering = locomotives
    .filter(
      ({ index }) =>
        world.locomotives[index]!.file.answers && state.locomotives[index]!.silenced === 0,
    )
    .map(({ index }) => world.locomotives[index]!.file.address);
  return answering.length > detector.readsAtOnce ? [] : answering;
}

const sameDecoders = (left: readonly DecoderAddress[], right: readonly DecoderAddress[]): boolean =>
  left.length === right.length &&
  left.every(
    ({ kind, number }, place) => right[place]!.kind === kind && right[place]!.number === number,
  );

function sendEdge(simulation: Simulation, section: number, window: Window): void {
  const { seen, edgeStream } = simulation.state.sections[section]!;
  const event = { kind: 'section', section, occupied: seen } as const;
  sendFromSection(simulation, section, 'edges', event, window, edgeStream);
}

function sendReport(simulation: Simulation, section: number, window: Window): void {
  const { readable, reportStream } = simulation.state.sections[section]!;
  const event = { kind: 'report', section, decoders: readable } as const;
  sendFromSection(simulation, section, 'reports', event, window, reportStream);
}

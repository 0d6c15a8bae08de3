import type { DecoderAddress, ReadDecoder } from '@blockbell/railway/track';
import type { Readable, SectionState, Simulation } from '../state.js';
import { facingIn } from './facing.js';
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
  if (!sameReadable(readable, it.readable)) {
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
  if (it.readable.crowded || it.readable.decoders.length > 0) {
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

export const nothingRead = (): Readable => ({ decoders: [], crowded: false });

/** The decoders the detector can tell apart now: none if there are more than it can read at once. */
function readableIn(simulation: Simulation, section: number): Readable {
  const { state, world } = simulation;
  const { detector } = world.layout.sections[section]!;
  if (!detector.reportsIdentity) return nothingRead();
  const { misread, locomotives } = state.sections[section]!;
  if (misread !== null) return { decoders: [misread], crowded: false };
  const answering = locomotives.filter(
    ({ index }) =>
      world.locomotives[index]!.file.answers && state.locomotives[index]!.silenced === 0,
  );
  if (answering.length > detector.readsAtOnce) return { decoders: [], crowded: true };
  const decoders = answering.map(({ index }): ReadDecoder => {
    const facing = detector.reportsOrientation ? facingIn(simulation, section, index) : null;
    const address = answersWith(simulation, index);
    return facing === null ? address : { ...address, facing };
  });
  return { decoders: distinct(decoders), crowded: false };
}

/** A decoder that is set up as part of a consist answers with the consist's address. */
function answersWith({ world }: Simulation, locomotive: number): DecoderAddress {
  const { file, train } = world.locomotives[locomotive]!;
  return world.stock.trains[train]!.file.consistAddress ?? file.address;
}

const isSame = (left: ReadDecoder, right: ReadDecoder): boolean =>
  left.kind === right.kind && left.number === right.number && left.facing === right.facing;

const distinct = (decoders: readonly ReadDecoder[]): readonly ReadDecoder[] =>
  decoders.filter((it, place) => decoders.findIndex((other) => isSame(it, other)) === place);

const sameReadable = (left: Readable, right: Readable): boolean =>
  left.crowded === right.crowded &&
  left.decoders.length === right.decoders.length &&
  left.decoders.every((it, place) => isSame(it, right.decoders[place]!));

function sendEdge(simulation: Simulation, section: number, window: Window): void {
  const { seen, edgeStream } = simulation.state.sections[section]!;
  const event = { kind: 'section', section, occupied: seen } as const;
  sendFromSection(simulation, section, 'edges', event, window, edgeStream);
}

function sendReport(simulation: Simulation, section: number, window: Window): void {
  const { readable, reportStream } = simulation.state.sections[section]!;
  const { decoders, crowded } = readable;
  const event = { kind: 'report', section, decoders, ...(crowded ? { crowded } : {}) } as const;
  sendFromSection(simulation, section, 'reports', event, window, reportStream);
}

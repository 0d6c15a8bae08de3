import { blockOf, endAhead, lineUpRows, strangers } from '@blockbell/railway';
import type { Changes, EngineState, Layout, SessionPhase, World } from '@blockbell/railway';
import type { LineUpView, LogView, Rows, SignalView, StrangerView } from '../messages/views.js';
import { alarmRow, sessionRow, type SessionLabels } from './session-rows.js';
import { elementRow, sectionRow, signalRow } from './track-rows.js';
import { runRow, trainRow } from './train-rows.js';

/** The engine's state as rows for a board. Reads only; the log, which the engine doesn't keep, is added by the shell. */
export function projectAll(
  world: World,
  state: EngineState,
  labels: SessionLabels,
  log: readonly LogView[] = [],
): Rows {
  return {
    session: sessionRow(world, state, labels),
    sections: state.sections.map((_, section) => sectionRow(state, section)),
    elements: state.elements.map((_, element) => elementRow(state, element)),
    signals: signalsOf(state, state.signals.keys()),
    trains: state.trains.map((_, train) => trainRow(world, state, train)),
    alarms: state.alarms.map(alarmRow),
    lineUp: lineUpOf(world, state),
    strangers: strangersOf(world, state),
    runs: state.trains.map((_, train) => runRow(state, train)),
    log: [...log],
  };
}

/**
 * The rows that `changes` names, and those about the session as a whole, which follow from many things: whoever sends them on
 * compares them with what was sent before.
 */
export function projectChanges(
  world: World,
  state: EngineState,
  labels: SessionLabels,
  changes: Changes,
  log: readonly LogView[] = [],
): Rows {
  const rows: Rows = {
    session: sessionRow(world, state, labels),
    lineUp: lineUpOf(world, state),
    strangers: strangersOf(world, state),
  };
  if (changes.sections.size > 0)
    rows.sections = inOrder(changes.sections).map((section) => sectionRow(state, section));
  if (changes.elements.size > 0)
    rows.elements = inOrder(changes.elements).map((element) => elementRow(state, element));
  if (changes.signals.size > 0) rows.signals = signalsOf(state, inOrder(changes.signals));
  if (changes.trains.size > 0) {
    const trains = inOrder(changes.trains);
    rows.trains = trains.map((train) => trainRow(world, state, train));
    rows.runs = trains.map((train) => runRow(state, train));
  }
  if (changes.alarms.size > 0)
    rows.alarms = state.alarms.filter(({ id }) => changes.alarms.has(id)).map(alarmRow);
  if (log.length > 0) rows.log = [...log];
  return rows;
}

const inOrder = (indexes: ReadonlySet<number>): number[] => [...indexes].sort((a, b) => a - b);

const signalsOf = (state: EngineState, headings: Iterable<number>): SignalView[] =>
  [...headings]
    .map((heading) => signalRow(state, heading))
    .filter((row): row is SignalView => row !== null);

/** Empty while trains run as told: places are not in question then. */
const lineUpOf = (world: World, state: EngineState): LineUpView[] =>
  RUNS.has(state.session.phase.kind)
    ? []
    : lineUpRows(world, state).map((row) => ({
        ...row,
        place: placeName(world.layout, row.heading),
      }));

const RUNS: ReadonlySet<SessionPhase['kind']> = new Set(['running', 'paused', 'ending', 'ended']);

const strangersOf = (world: World, state: EngineState): StrangerView[] =>
  strangers({ world, state }).map(({ block, text, candidates }) => ({
    block,
    text,
    candidates: candidates.map(({ train, why, share }) => ({
      train,
      why,
      share: Math.round(share * 100),
    })),
  }));

/** "Platform 2, towards b"; empty for a train without a place. */
function placeName(layout: Layout, heading: number): string {
  if (heading < 0) return '';
  const { file, id } = layout.elements[blockOf(heading)]!;
  const name = file?.kind === 'block' ? (file.name ?? id) : id;
  return `${name}, towards ${endAhead(heading)}`;
}

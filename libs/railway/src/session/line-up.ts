import { leadingUnseen } from '../occupancy/extent.js';
import { pathEnd, piecesOf, type PlacedPiece } from '../interlocking/held-path.js';
import { placeHead } from '../movement/train-motion.js';
import { openDoubt, reportSpeaks } from '../occupancy/doubt.js';
import { addressKey } from '../stock/compile-stock.js';
import type { EngineState } from './state.js';
import type { World } from './world.js';
import type { Writer } from './writer.js';

/** One train's expected place against what detection says. */
export interface LineUpRow {
  readonly train: number;
  readonly heading: number;
  readonly status: 'confirmed' | 'ask' | 'missing' | 'mismatch' | 'absent';
  readonly text: string;
}

/** The sections on a train's held path that read occupied, rear to front. */
function occupiedOnPath(world: World, state: EngineState, train: number): PlacedPiece[] {
  return piecesOf(world.layout, state.trains[train]!.path).filter(
    ({ section }) => section >= 0 && state.sections[section]!.belief === 'occupied',
  );
}

/** What detection says of a train's expected place. */
export function lineUpRow(world: World, state: EngineState, index: number): LineUpRow {
  const train = state.trains[index]!;
  const heading = train.path.findLast((item) => item.heading >= 0)?.heading ?? -1;
  const row = (status: LineUpRow['status'], text: string): LineUpRow => ({
    train: index,
    heading,
    status,
    text,
  });
  if (train.activity.kind === 'absent') return row('absent', 'Not on the layout.');
  if (train.confirmed) return row('confirmed', train.identity.evidence);
  const occupied = occupiedOnPath(world, state, index);
  if (occupied.length === 0) return row('missing', 'Nothing is detected where it should stand.');
  const read = occupied.flatMap(({ section }) => state.sections[section]!.decoders.map(addressKey));
  const own = world.stock.trains[index]!.locomotives.map(({ file }) => addressKey(file.address));
  const others = read.filter((address) => !own.includes(address));
  if (others.length > 0) {
    return row('mismatch', `Decoder ${others.join(', ')} answers there instead.`);
  }
  if (read.length > 0) return row('confirmed', 'Its decoder answers there.');
  return row(
    'ask',
    world.stock.trains[index]!.answers
      ? 'Something stands there, but no decoder was read. Look and say.'
      : 'Something stands there; its decoder never answers. Look and say.',
  );
}

/** All rows, by train. */
export const lineUpRows = (world: World, state: EngineState): LineUpRow[] =>
  state.trains.map((_, index) => lineUpRow(world, state, index));

/** Sections occupied or unknown that no train accounts for. */
export function strangeSections(state: EngineState): number[] {
  return state.sections.flatMap(({ belief, claim }, index) =>
    belief === 'occupied' && claim < 0 ? [index] : [],
  );
}

/** How much is still to be answered before trains may move. */
export function openQuestions(world: World, state: EngineState): number {
  const { phase } = state.session;
  if (phase.kind === 'set-up' || phase.kind === 'ended') return 0;
  const places = lineUpRows(world, state).filter(
    ({ status }) => status !== 'confirmed' && status !== 'absent',
  );
  return places.length + strangeSections(state).length;
}

/** Detection has had its time after power-up: what decoders confirm is taken over, the rest is asked. */
export function settleLineUp(w: Writer): void {
  const { phase } = w.state.session;
  if (phase.kind !== 'line-up') return;
  w.session().phase = { ...phase, settled: true };
  takeLineUp(w);
  doubtTogether(w);
  w.state.dispatching.due = true;
}

/**
 * Trains that stand where one is expected but could not be told apart by their decoders may have changed places: they are
 * in doubt together, and what is said or read of one counts for all.
 */
function doubtTogether(w: Writer): void {
  const open = lineUpRows(w.world, w.state).filter(
    ({ status }) => status === 'ask' || status === 'mismatch',
  );
  if (open.length < 2) return;
  openDoubt(
    w,
    open.map(({ train }) => train),
    'Their decoders were not read where they are expected.',
  );
  w.state.sections.forEach(({ claim, decoders }, section) => {
    if (claim < 0) return;
    for (const address of decoders) {
      const train = w.world.stock.trainByAddress.get(addressKey(address));
      const block = w.world.layout.sections[section]!.elements[0]!;
      if (train !== undefined) reportSpeaks(w, train, block);
    }
  });
}

/** Takes over, once detection has settled, every place that decoders confirm, and finds the heads again. */
function takeLineUp(w: Writer): void {
  w.state.trains.forEach((train, index) => {
    if (train.activity.kind === 'absent' || train.confirmed) return;
    const row = lineUpRow(w.world, w.state, index);
    if (row.status === 'confirmed') confirmPlace(w, index, 'reported', row.text);
  });
  w.changes.lineUp = true;
}

/** A place is confirmed: the train stands there, with its head where the furthest occupied section allows. */
export function confirmPlace(
  w: Writer,
  index: number,
  certainty: 'reported' | 'inferred' | 'declared',
  evidence: string,
): void {
  const train = w.train(index);
  train.confirmed = true;
  train.identity = { certainty, evidence, since: w.now, misreads: 0 };
  train.activity = { kind: 'standing' };
  findHead(w, index);
  w.changes.lineUp = true;
  w.state.dispatching.due = true;
}

/** The head of a train that ran on while power was away is somewhere in the furthest occupied section of its path. */
function findHead(w: Writer, index: number): void {
  const train = w.train(index);
  const furthest = occupiedOnPath(w.world, w.state, index).at(-1);
  if (!train.adrift || furthest === undefined) return;
  train.adrift = false;
  const lead = leadingUnseen(w.world.stock.trains[index]!, train);
  train.edge = Math.max(train.edge, furthest.start + lead);
  placeHead(w, index, train.edge, Math.min(Math.max(furthest.end + lead, train.edge), pathEnd(train.path)));
}

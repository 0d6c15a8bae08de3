import { piecesOf, type PlacedPiece } from '../interlocking/held-path.js';
import { blockOf } from '../layout/layout.js';
import { candidatesIn } from '../occupancy/doubt-candidates.js';
import { expectedFacing } from '../occupancy/facing.js';
import { addressKey } from '../stock/compile-stock.js';
import type { ReadDecoder } from './device.js';
import { leftOpen } from './run-on.js';
import type { EngineState } from './state.js';
import type { World } from './world.js';

/** One train's expected place against what detection says. */
export interface LineUpRow {
  readonly train: number;
  readonly heading: number;
  readonly status: 'confirmed' | 'ask' | 'missing' | 'mismatch' | 'absent';
  readonly text: string;
}

/** The sections on a train's held path that read occupied, rear to front. */
export function occupiedOnPath(world: World, state: EngineState, train: number): PlacedPiece[] {
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
  const { addresses, answers } = world.stock.trains[index]!;
  const others = read.filter((address) => !addresses.includes(address));
  if (others.length > 0) {
    return row('mismatch', `Decoder ${others.join(', ')} answers there instead.`);
  }
  const turned = turnedRound(world, state, index, occupied);
  if (turned !== undefined) {
    const { facing } = turned;
    return row(
      'mismatch',
      `Its decoder answers, but facing ${facing}: it stands the other way round.`,
    );
  }
  if (read.length > 0 && train.mustSee) {
    const lost =
      'Its decoder answers there, but much of what happened before the restart was lost.';
    return row(
      'ask',
      `${lost} Look which way round it stands and whether it stands foul, and say.`,
    );
  }
  if (read.length > 0) {
    const open = train.adrift ? leftOpen(world, state, index, occupied) : null;
    if (open === null) return row('confirmed', 'Its decoder answers there.');
    return row('ask', `Its decoder answers there, but ${open}. Look how far it has come, and say.`);
  }
  const crowded = occupied.some(({ section }) => state.sections[section]!.crowded);
  const known = crowded
    ? 'More decoders answer there than its detector can tell apart.'
    : answers
      ? 'Something stands there, but no decoder was read.'
      : 'Something stands there; its decoder never answers.';
  return row('ask', `${known} Look and say.${mayBe(world, state, blockOf(heading))}`);
}

/** A decoder of a train that looks the other way than stored, where detectors tell. */
function turnedRound(
  world: World,
  state: EngineState,
  index: number,
  occupied: readonly PlacedPiece[],
): ReadDecoder | undefined {
  return occupied
    .flatMap(({ section }) =>
      state.sections[section]!.decoders.filter((decoder) => {
        const expected = expectedFacing({ world, state }, index, section, decoder);
        return expected !== null && decoder.facing !== undefined && decoder.facing !== expected;
      }),
    )
    .at(0);
}

/** Which trains it may be, where several may have changed places. */
function mayBe(world: World, state: EngineState, block: number): string {
  const labels = candidatesIn(state, block).map(
    ({ train }) => world.stock.trains[train]!.file.label,
  );
  return labels.length > 1
    ? ` It may be ${labels.slice(0, -1).join(', ')} or ${labels.at(-1)}.`
    : '';
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

import { piecesOf } from '../interlocking/held-path.js';
import { furthestHead } from '../movement/train-motion.js';
import type { Certainty } from '../session/state.js';
import type { Seen } from '../session/writer.js';

/**
 * What is believed of a block. All but clear count as occupied.
 *
 * - `occupied`: by a train known by report, inference or declaration;
 * - `expected`: a stored or remembered place that is not confirmed yet;
 * - `ambiguous`: a train is known there, and a second, or another in its place, is not excluded;
 * - `unidentified`: occupied, by nobody known;
 * - `unknown`: its detectors say nothing.
 */
export type BlockState =
  'clear' | 'occupied' | 'expected' | 'ambiguous' | 'unidentified' | 'unknown';

export interface BlockBelief {
  readonly state: BlockState;
  /** The train known there, or null. */
  readonly train: number | null;
  /** How that train is known. */
  readonly known: Certainty | null;
  /** One sentence. */
  readonly evidence: string;
  /** Physical ms. */
  readonly since: number;
}

/** What is believed of a block or of any other element of the track. */
export function beliefOf(seen: Seen, element: number): BlockBelief {
  const { layout } = seen.world;
  const sections = layout.elements[element]!.sections.map((index) => ({
    index,
    ...seen.state.sections[index]!,
  }));
  const since = Math.max(0, ...sections.map((section) => section.since));
  const strange = sections.find(({ belief, claim }) => belief === 'occupied' && claim < 0);
  const here = trainOn(seen, element);
  if (strange !== undefined && here === null) {
    const id = layout.sections[strange.index]!.id;
    const evidence =
      strange.unidentified ?? `Section ${id} is occupied, and no train is expected there.`;
    return { state: 'unidentified', train: null, known: null, evidence, since: strange.since };
  }
  if (here !== null) return ofTrain(seen, here, strange !== undefined);
  const left = sections.find(({ belief }) => belief === 'occupied');
  if (left !== undefined) {
    const { label } = seen.world.stock.trains[left.claim]!.file;
    const { id } = layout.sections[left.index]!;
    const evidence = `Section ${id} is occupied, and ${label}, for which it is held, is not there.`;
    return { state: 'unidentified', train: null, known: null, evidence, since: left.since };
  }
  const silent = sections.find(({ belief }) => belief === 'unknown');
  if (silent !== undefined) {
    const evidence = `Section ${layout.sections[silent.index]!.id} has told nothing since its power or its bus failed.`;
    return { state: 'unknown', train: null, known: null, evidence, since: silent.since };
  }
  const byHand = sections.find(({ clearByHand }) => clearByHand !== null);
  const evidence =
    sections.length === 0
      ? 'No detector sees it, and no train is believed on it.'
      : (byHand?.clearByHand ?? 'All its sections read free.');
  return { state: 'clear', train: null, known: null, evidence, since };
}

/** How a train's place is believed, for a block it stands in; `more`: something else is in the block besides. */
function ofTrain({ state }: Seen, index: number, more: boolean): BlockBelief {
  const { identity, confirmed } = state.trains[index]!;
  const { certainty: known, evidence, since } = identity;
  const doubted =
    known === 'ambiguous' || state.doubts.some(({ trains }) => trains.includes(index));
  const believed: BlockState = doubted || more ? 'ambiguous' : confirmed ? 'occupied' : 'expected';
  return { state: believed, train: index, known, evidence, since };
}

/** The train that may reach over the element now: between its proven tail and the furthest place its head can be. */
function trainOn(seen: Seen, element: number): number | null {
  const { state, world } = seen;
  const { holder } = state.elements[element]!;
  if (holder < 0) return null;
  const train = state.trains[holder]!;
  const item = train.path.find((each) => each.element === element);
  if (item === undefined) return null;
  const reached = Math.max(train.edge, furthestHead(world.models[holder]!, train, state.now));
  const isReached = item.start < reached && item.end > train.tail;
  const pieces = piecesOf(world.layout, [item]);
  const isSeen = pieces.some(
    ({ section }) => section >= 0 && state.sections[section]!.belief !== 'clear',
  );
  const { unseenFront, unseenRear } = world.stock.trains[holder]!;
  const mayHide =
    item.start < train.edge &&
    (unseenFront > 0 || unseenRear > 0 || pieces.some(({ section }) => section < 0));
  return isReached && (isSeen || mayHide) ? holder : null;
}

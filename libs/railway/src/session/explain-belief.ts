import { beliefOf, type BlockState } from '../occupancy/block-belief.js';
import { blockOf } from '../layout/layout.js';
import { candidatesIn, type DoubtCandidate } from '../occupancy/doubt-candidates.js';
import { doubtOf } from '../occupancy/doubt.js';
import { candidates } from '../occupancy/strangers.js';
import { addressKey } from '../stock/compile-stock.js';
import { placeText } from './explain.js';
import type { World } from './world.js';
import type { Seen } from './writer.js';

/** What is asked about: a train, a block (or another element) or a detection section, by its index. */
export interface Subject {
  readonly kind: 'train' | 'element' | 'section';
  readonly index: number;
}

/** What is believed of something, and how that is known. */
export interface Explanation {
  /** One sentence: what is believed. */
  readonly belief: string;
  /** What it rests on, a sentence each; the first is the evidence itself. */
  readonly evidence: readonly string[];
  /** Since when, physical ms. */
  readonly since: number;
}

/** Whatever the board or the command line wants to say of a belief; the words come from the state alone. */
export function explainBelief(seen: Seen, { kind, index }: Subject): Explanation {
  if (kind === 'train') return ofTrain(seen, index);
  return kind === 'element' ? ofElement(seen, index) : ofSection(seen, index);
}

const label = ({ world }: Seen, train: number): string => world.stock.trains[train]!.file.label;

function ofTrain(seen: Seen, index: number): Explanation {
  const { state, world } = seen;
  const { activity, identity, confirmed } = state.trains[index]!;
  const name = label(seen, index);
  if (activity.kind === 'absent') {
    return {
      belief: `${name} is not on the layout.`,
      evidence: [identity.evidence],
      since: identity.since,
    };
  }
  const where = placeText(world, state, index);
  const certain =
    identity.certainty !== 'ambiguous' && confirmed && doubtOf(seen, index) === undefined;
  const words = certain ? `certain, ${identity.certainty}` : `not certain, ${identity.certainty}`;
  return {
    belief: `${name} ${activity.kind === 'moving' ? 'runs' : 'stands'} at ${where} (${words}).`,
    evidence: [identity.evidence, ...doubtLines(seen, index)],
    since: identity.since,
  };
}

function doubtLines(seen: Seen, index: number): string[] {
  const doubt = doubtOf(seen, index);
  if (doubt === undefined) return [];
  const others = doubt.trains.filter((train) => train !== index).map((train) => label(seen, train));
  const count = doubt.assignments.length;
  const ways =
    count === 0
      ? 'Too many ways are possible, or none explains all that was read: only what a person says of each counts.'
      : `The evidence allows ${count} ${count === 1 ? 'way' : 'ways'} in which they may stand.`;
  return [
    `It is in doubt together with ${others.join(', ')}. ${doubt.evidence}`,
    ways,
    ...doubt.said.map(
      ({ train, block, by }) => `${by} saw ${label(seen, train)} in ${idOf(seen, block)}.`,
    ),
  ];
}

const idOf = ({ world }: Seen, element: number): string => world.layout.elements[element]!.id;

const STATE_WORDS: Record<BlockState, string> = {
  clear: 'is clear',
  occupied: 'is occupied by',
  expected: 'is expected to hold',
  ambiguous: 'holds, not for certain,',
  unidentified: 'is occupied by nobody known',
  unknown: 'is unknown and counts as occupied',
};

function ofElement(seen: Seen, element: number): Explanation {
  const { state, train, known, evidence, since } = beliefOf(seen, element);
  const { holder } = seen.state.elements[element]!;
  const who = train === null ? '' : ` ${label(seen, train)} (${known})`;
  const held = holder >= 0 && train === null ? [`It is held for ${label(seen, holder)}.`] : [];
  return {
    belief: `${idOf(seen, element)} ${STATE_WORDS[state]}${who}.`,
    evidence: [evidence, ...held, ...candidateLines(seen, element)],
    since,
  };
}

/** What a person is asked about a train in doubt: where it is believed, and who may stand there. */
export interface AskedDoubt {
  /** The block, as an element index. */
  readonly block: number;
  /** What is known of the doubt, a sentence each. */
  readonly lines: readonly string[];
  /** The likeliest first. */
  readonly candidates: readonly DoubtCandidate[];
}

/** The doubt a train is in, as a question to a person; null where there is none. */
export function askedDoubt(seen: Seen, index: number): AskedDoubt | null {
  const doubt = doubtOf(seen, index);
  if (doubt === undefined) return null;
  const block = blockOf(doubt.places[doubt.trains.indexOf(index)]!);
  return { block, lines: doubtLines(seen, index), candidates: candidatesIn(seen.state, block) };
}

/** Who else may stand in an element, the likeliest first. */
function candidateLines(seen: Seen, element: number): string[] {
  const strange = seen.world.layout.elements[element]!.sections.find((section) => {
    const { belief, claim } = seen.state.sections[section]!;
    return belief === 'occupied' && claim < 0;
  });
  const found =
    strange === undefined ? candidatesIn(seen.state, element) : candidates(seen, strange);
  return found.map(
    ({ train, why, share }) =>
      `It may be ${label(seen, train)}: ${why} (${Math.round(share * 100)} of 100, for ranking only).`,
  );
}

function ofSection(seen: Seen, index: number): Explanation {
  const { id } = seen.world.layout.sections[index]!;
  const { belief, raw, claim, decoders, crowded, unidentified, clearByHand, since } =
    seen.state.sections[index]!;
  const said = raw === null ? 'has said nothing' : raw ? 'says occupied' : 'says free';
  return {
    belief: `Section ${id} is ${belief}${claim < 0 ? '' : `, held for ${label(seen, claim)}`}.`,
    evidence: [
      ...(unidentified === null ? [] : [unidentified]),
      ...(clearByHand === null ? [] : [clearByHand]),
      `Its detector ${said}.`,
      ...(crowded ? ['More decoders answer there than it can tell apart.'] : []),
      ...(decoders.length === 0 ? [] : [`It reads ${decoders.map(addressKey).join(', ')}.`]),
    ],
    since,
  };
}

/** The index of what a person names: a train by its id or label, a block or other element, a section; or null. */
export function findSubject(
  { layout, stock }: World,
  kind: Subject['kind'],
  name: string,
): Subject | null {
  const found =
    kind === 'train'
      ? stock.trains.findIndex(({ file }) => file.id === name || file.label === name)
      : kind === 'section'
        ? (layout.sectionByName.get(name) ?? -1)
        : (layout.elementByName.get(name) ?? -1);
  return found < 0 ? null : { kind, index: found };
}

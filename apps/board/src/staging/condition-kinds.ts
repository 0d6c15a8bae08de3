import type { TrackCondition, TrainCondition } from '@blockbell/railway';

export type Condition = TrainCondition | TrackCondition;

/** What may be filled in at a condition. */
export type Blank =
  | 'none'
  | 'classes'
  | 'trains'
  | 'tracks'
  | 'length'
  | 'minutes'
  | 'span'
  | 'count'
  | 'group'
  | 'one';

/** A condition that may be chosen: what it asks, and what is filled in. */
export interface ConditionKind {
  readonly is: Condition['is'];
  readonly words: string;
  readonly blank: Blank;
}

const GROUPS: readonly ConditionKind[] = [
  { is: 'all', words: 'all of these hold', blank: 'group' },
  { is: 'any', words: 'any of these holds', blank: 'group' },
  { is: 'not', words: 'this does not hold', blank: 'one' },
];

/** What may be asked of a train, and of a track. */
export const CONDITION_KINDS: Readonly<Record<'train' | 'track', readonly ConditionKind[]>> = {
  train: [
    { is: 'class', words: 'it is of the class', blank: 'classes' },
    { is: 'train', words: 'it is one of these trains', blank: 'trains' },
    { is: 'longer', words: 'it is longer than', blank: 'length' },
    { is: 'shorter', words: 'it is shorter than', blank: 'length' },
    { is: 'leaving', words: 'it leaves again within', blank: 'minutes' },
    { is: 'staying', words: 'it does not leave any more', blank: 'none' },
    { is: 'turning', words: 'it leaves by the end it came in by', blank: 'none' },
    { is: 'between', words: 'it comes between', blank: 'span' },
    ...GROUPS,
  ],
  track: [
    { is: 'track', words: 'it is one of these tracks', blank: 'tracks' },
    { is: 'empty', words: 'it is empty', blank: 'none' },
    { is: 'burying-nobody', words: 'nobody in it would be kept from leaving', blank: 'none' },
    { is: 'not-buried', words: 'nobody in it would keep the train from leaving', blank: 'none' },
    { is: 'same-class', words: 'only trains of the same class are in it', blank: 'none' },
    { is: 'keeping-free', words: 'so many other tracks stay empty', blank: 'count' },
    { is: 'longer', words: 'it is longer than', blank: 'length' },
    { is: 'shorter', words: 'it is shorter than', blank: 'length' },
    ...GROUPS,
  ],
};

export const CLASSES = ['express', 'passenger', 'freight', 'works'] as const;

/**
 * A condition as it is when it has just been chosen. Groups begin with the one that stood in their place, or with its members where
 * that was a group too.
 */
export function freshCondition(
  is: Condition['is'],
  before: Condition | null,
  otherwise: Condition,
): Condition {
  const found = FRESH[is];
  if (found !== undefined) return found;
  if (before !== null && (before.is === 'all' || before.is === 'any') && is !== 'not')
    return { ...before, is } as Condition;
  const first = before ?? otherwise;
  return is === 'not'
    ? ({ is, of: first } as Condition)
    : ({ is, of: [first] } as unknown as Condition);
}

const FRESH: Readonly<Partial<Record<Condition['is'], Condition>>> = {
  class: { is: 'class', of: ['express'] },
  train: { is: 'train', of: [] },
  track: { is: 'track', of: [] },
  longer: { is: 'longer', than: 1000 as never },
  shorter: { is: 'shorter', than: 1000 as never },
  leaving: { is: 'leaving', within: 30 },
  staying: { is: 'staying' },
  turning: { is: 'turning' },
  between: { is: 'between', from: '08:00', until: '09:00' },
  empty: { is: 'empty' },
  'burying-nobody': { is: 'burying-nobody' },
  'not-buried': { is: 'not-buried' },
  'same-class': { is: 'same-class' },
  'keeping-free': { is: 'keeping-free', tracks: 1 },
};

/** Groups that begin with nothing begin with this. */
export const firstOf = (about: 'train' | 'track'): Condition =>
  about === 'train' ? { is: 'class', of: ['express'] } : { is: 'empty' };

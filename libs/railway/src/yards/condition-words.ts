import type { RuleNames } from './rule-words.js';
import type { TrackCondition, TrainCondition } from './staging-rules-file.js';

/** A condition of a train, after "a train that …". */
export function trainWords(condition: TrainCondition, names: RuleNames): string {
  switch (condition.is) {
    case 'class':
      return `runs as ${listed(condition.of, 'or')}`;
    case 'train':
      return `is ${listed(condition.of.map(names.train), 'or')}`;
    case 'longer':
    case 'shorter':
      return `is ${condition.is} than ${condition.than} mm`;
    case 'leaving':
      return `leaves within ${condition.within} min`;
    case 'staying':
      return 'does not leave any more';
    case 'turning':
      return 'leaves by the end it came in by';
    case 'between':
      return `comes from ${condition.from} to ${condition.until}`;
    case 'all':
    case 'any':
      return grouped(
        condition.is,
        condition.of.map((it) => trainWords(it, names)),
      );
    case 'not':
      return `is not one that ${inner(condition.of, trainWords(condition.of, names))}`;
  }
}

/** A condition of a track, after "a track that …". */
export function trackWords(condition: TrackCondition, names: RuleNames): string {
  switch (condition.is) {
    case 'track':
      return `is ${listed(condition.of.map(names.track), 'or')}`;
    case 'empty':
      return 'is empty';
    case 'longer':
    case 'shorter':
      return `is ${condition.is} than ${condition.than} mm`;
    case 'burying-nobody':
      return 'has nobody in it whom it would keep from leaving';
    case 'not-buried':
      return 'has nobody in it who would keep it from leaving';
    case 'same-class':
      return 'has no train of another class in it';
    case 'keeping-free':
      return `leaves ${condition.tracks} other ${condition.tracks === 1 ? 'track' : 'tracks'} empty`;
    case 'all':
    case 'any':
      return grouped(
        condition.is,
        condition.of.map((it) => trackWords(it, names)),
      );
    case 'not':
      return `is not one that ${inner(condition.of, trackWords(condition.of, names))}`;
  }
}

/** "A, B or C". */
function listed(names: readonly string[], word: string): string {
  const last = names.at(-1)!;
  return names.length === 1 ? last : `${names.slice(0, -1).join(', ')} ${word} ${last}`;
}

/** Brackets keep "and" and "or" apart where they meet. */
const grouped = (is: 'all' | 'any', words: readonly string[]): string =>
  words.length === 1 ? words[0]! : `(${words.join(is === 'all' ? ', and ' : ', or ')})`;

const inner = ({ is }: { readonly is: string }, words: string): string =>
  is === 'not' ? `(${words})` : words;

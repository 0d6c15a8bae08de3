import { fault, type Fault } from '../faults/fault.js';
import { checkReference } from '../faults/identifiers.js';
import { checkRange } from '../faults/numbers.js';
import { parseClockText } from '../timetable/clock-text.js';
import type { TrackCondition, TrainCondition } from './staging-rules-file.js';

/** The names that conditions may use; null: not known, for the file that has them was not given. */
export interface Known {
  readonly tracks: ReadonlySet<string> | null;
  readonly trains: { has(id: string): boolean } | null;
}

/** Conditions within conditions: more can't be read as a sentence. */
const DEEPEST = 4;
const LONGEST = 1_000_000;

/** Whether a condition of a train says something that can be asked. */
export function checkTrainCondition(
  condition: TrainCondition,
  place: string,
  known: Known,
  depth = 1,
): Fault[] {
  switch (condition.is) {
    case 'class':
      return checkNamed(condition.of, place, 'class');
    case 'train':
      return [
        ...checkNamed(condition.of, place, 'train'),
        ...checkNames(condition.of, place, 'train', known.trains),
      ];
    case 'longer':
    case 'shorter':
      return checkRange(`${place}.than`, 'the length', condition.than, 1, LONGEST);
    case 'leaving':
      return checkRange(`${place}.within`, 'the number of minutes', condition.within, 1, 1440);
    case 'staying':
    case 'turning':
      return [];
    case 'between':
      return checkSpan(condition.from, condition.until, place);
    case 'all':
    case 'any':
      return checkGroup(condition.of, place, depth, (it, where) =>
        checkTrainCondition(it, where, known, depth + 1),
      );
    case 'not':
      return checkGroup([condition.of], place, depth, (it) =>
        checkTrainCondition(it, `${place}.of`, known, depth + 1),
      );
  }
}

/** Whether a condition of a track says something that can be asked. */
export function checkTrackCondition(
  condition: TrackCondition,
  place: string,
  known: Known,
  depth = 1,
): Fault[] {
  switch (condition.is) {
    case 'track':
      return [
        ...checkNamed(condition.of, place, 'track'),
        ...checkNames(condition.of, place, 'track', known.tracks),
      ];
    case 'longer':
    case 'shorter':
      return checkRange(`${place}.than`, 'the length', condition.than, 1, LONGEST);
    case 'keeping-free': {
      const most = known.tracks === null ? LONGEST : known.tracks.size - 1;
      return checkRange(`${place}.tracks`, 'the number of tracks', condition.tracks, 1, most);
    }
    case 'empty':
    case 'burying-nobody':
    case 'not-buried':
    case 'same-class':
      return [];
    case 'all':
    case 'any':
      return checkGroup(condition.of, place, depth, (it, where) =>
        checkTrackCondition(it, where, known, depth + 1),
      );
    case 'not':
      return checkGroup([condition.of], place, depth, (it) =>
        checkTrackCondition(it, `${place}.of`, known, depth + 1),
      );
  }
}

function checkGroup<T>(
  of: readonly T[],
  place: string,
  depth: number,
  check: (condition: T, place: string) => Fault[],
): Fault[] {
  if (of.length === 0)
    return [fault(`${place}.of`, 'no condition is named', 'add one, or remove the group')];
  if (depth >= DEEPEST)
    return [
      fault(
        place,
        `conditions stand more than ${DEEPEST} deep within one another`,
        'make a rule of its own of some of them',
      ),
    ];
  return of.flatMap((it, index) => check(it, `${place}.of[${index}]`));
}

const checkNamed = (of: readonly string[], place: string, what: string): Fault[] =>
  of.length > 0
    ? []
    : [fault(`${place}.of`, `no ${what} is named`, `name a ${what}, or remove the condition`)];

const checkNames = (
  of: readonly string[],
  place: string,
  what: string,
  known: { has(id: string): boolean } | null,
): Fault[] =>
  known === null
    ? []
    : of.flatMap((id, index) => checkReference(known, id, what, `${place}.of[${index}]`));

function checkSpan(from: string, until: string, place: string): Fault[] {
  const [begins, ends] = [parseClockText(from), parseClockText(until)];
  const wrong = (name: string, text: string): Fault =>
    fault(`${place}.${name}`, `"${text}" is no time of the clock`, 'write HH:MM, such as 08:30');
  if (begins === null || ends === null)
    return [
      ...(begins === null ? [wrong('from', from)] : []),
      ...(ends === null ? [wrong('until', until)] : []),
    ];
  return begins < ends
    ? []
    : [
        fault(
          `${place}.until`,
          `${until} is not later than ${from}`,
          'enter a later time; hours may pass 24',
        ),
      ];
}

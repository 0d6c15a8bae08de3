import type { LayoutFile } from '../layout/layout-file.js';
import type { StockFile } from '../stock/stock-file.js';
import { trackWords, trainWords } from './condition-words.js';
import type { RuleRef } from './decide-track.js';
import type {
  ArrivalRule,
  DepartureOrder,
  Fallback,
  RequestRule,
  TrackOrder,
  YardRulesFile,
} from './staging-rules-file.js';

/** How tracks and trains are called in sentences; an id that nothing has is its own name. */
export interface RuleNames {
  readonly yard: string;
  readonly track: (id: string) => string;
  readonly train: (id: string) => string;
  readonly station: (id: string) => string;
}

export function ruleNames(
  layout: LayoutFile | null,
  stock: StockFile | null,
  yard: string,
): RuleNames {
  const station = layout?.stations.find(({ id }) => id === yard);
  return {
    yard: station?.name ?? yard,
    track: (id) => `track ${station?.tracks.find((it) => it.id === id)?.name ?? id}`,
    train: (id) => stock?.trains.find((it) => it.id === id)?.label ?? id,
    station: (id) => layout?.stations.find((it) => it.id === id)?.name ?? id,
  };
}

/** The rules of a yard as sentences, in the order in which they are gone through. */
export const yardSentences = (rules: YardRulesFile, names: RuleNames): string[] => [
  ...rules.arrivals.map((rule, at) => `${at + 1}. ${arrivalSentence(rule, names)}`),
  ...(rules.nothingFits.length === 0
    ? [
        'A train for which no rule finds a track waits outside until one does, or a person says which.',
      ]
    : rules.nothingFits.map(
        (fallback, at) =>
          `${at === 0 ? 'If no rule finds a track' : 'After that'}, ${fallbackWords(fallback, names)}.`,
      )),
  departureSentence(rules.departures.order),
  ...rules.departures.requests.map((request) => requestSentence(request, names)),
  MOVE_UP_SENTENCES[rules.moveUp],
];

/** The sentence of one rule that gave a train its track. */
export function ruleSentence(
  rules: YardRulesFile,
  { list, place }: RuleRef,
  names: RuleNames,
): string {
  if (list === 'arrivals')
    return `rule ${place + 1}: ${arrivalSentence(rules.arrivals[place]!, names)}`;
  return `no rule found a track: ${fallbackWords(rules.nothingFits[place]!, names)}.`;
}

const arrivalSentence = ({ when, only, order }: ArrivalRule, names: RuleNames): string =>
  `${when === undefined ? 'Every train' : `A train that ${trainWords(when, names)}`} takes ` +
  `${takenWords(only, order, names)}.`;

const takenWords = (
  only: ArrivalRule['only'],
  order: readonly TrackOrder[],
  names: RuleNames,
): string =>
  `a track that ${only === undefined ? 'has room' : `has room and ${trackWords(only, names)}`}` +
  (order.length === 0
    ? ''
    : `; first ${order.map((it) => TRACK_ORDER_WORDS[it.by](it)).join(', then ')}`);

function fallbackWords(fallback: Fallback, names: RuleNames): string {
  switch (fallback.do) {
    case 'hold':
      return `it waits outside for ${minutes(fallback.minutes)}`;
    case 'take':
      return `it takes ${takenWords(fallback.only, fallback.order, names)}`;
    case 'overflow':
      return `it goes to ${names.station(fallback.to)} instead, if that has a track for it`;
    case 'ask':
      return 'it waits outside until a rule finds a track or a person says which';
  }
}

const departureSentence = (order: readonly DepartureOrder[]): string =>
  order.length === 0
    ? 'Trains that are due leave as the timetable has it.'
    : `Of trains that are due leaves first ${order.map((it) => DEPARTURE_WORDS[it.by](it)).join(', then ')}; so is chosen who works a service that names no train.`;

/** Why a train works a service that names none. `of`: how many trains were free for it. */
export function workedByWords(order: readonly DepartureOrder[], of: number): string {
  if (of === 1) return 'it is the only train there that is free for it.';
  const how =
    order.length === 0
      ? 'it is the first that can work it.'
      : `the rules take first ${order.map((it) => DEPARTURE_WORDS[it.by](it)).join(', then ')}.`;
  return `of ${of} trains there that are free for it, ${how}`;
}

const requestSentence = (
  { when, fewerThan, minutes: most }: RequestRule,
  names: RuleNames,
): string =>
  `${when === undefined ? 'Every train' : `A train that ${trainWords(when, names)}`} leaves only while ` +
  `${fewerThan === 1 ? 'no train is' : `fewer than ${fewerThan} trains are`} at the place where it goes ` +
  `or on the way there, but waits for that no longer than ${minutes(most)}.`;

const minutes = (count: number): string => (count === 1 ? '1 minute' : `${count} minutes`);

const seedWords = (order: { readonly by: string; readonly seed?: number }): string =>
  order.seed === undefined ? '' : ` (seed ${order.seed})`;

type Worded = { readonly by: string; readonly seed?: number; readonly of?: readonly string[] };

const TRACK_ORDER_WORDS: Readonly<Record<TrackOrder['by'], (order: Worded) => string>> = {
  'least-spare': () => 'the one with the least length to spare',
  'most-spare': () => 'the one with the most length to spare',
  'fewest-buried': () => 'the one where the fewest are in one another’s way',
  call: () => 'the one its call prefers',
  list: () => 'the one named first in the layout',
  fullest: () => 'the one with the most trains',
  emptiest: () => 'the one with the fewest trains',
  rotation: () => 'the one that has got no train for the longest time',
  random: (order) => `one by chance${seedWords(order)}`,
};

const DEPARTURE_WORDS: Readonly<Record<DepartureOrder['by'], (order: Worded) => string>> = {
  timetable: () => 'the one booked first',
  'longest-waiting': () => 'the one that has stood there the longest',
  rotation: () => 'the one that has left the least often',
  class: (order) => `one of the class that comes first in ${(order.of ?? []).join(', ')}`,
  priority: () => 'the most important one',
  random: (order) => `one by chance${seedWords(order)}`,
};

const MOVE_UP_SENTENCES: Readonly<Record<YardRulesFile['moveUp'], string>> = {
  'on-arrival': 'On arrival a train goes on to the furthest free slot of its track.',
  'whenever-free':
    'A train goes on to the furthest free slot of its track, on arrival and whenever one ahead of it falls free.',
  never: 'A train stops in the first slot of its track in which it fits.',
};

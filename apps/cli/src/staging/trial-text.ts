import {
  formatClockText,
  fastTime,
  ruleNames,
  yardSentences,
  type World,
  type YardRulesFile,
} from '@blockbell/railway';
import {
  keptOut,
  keptOutText,
  type BookedYard,
  type Trial,
  type TriedStay,
} from '@blockbell/staging';
import { counted } from '../fault-text.js';

/** The rules of one yard, tried on the timetable. */
export interface TriedYard {
  readonly yard: BookedYard;
  readonly rules: YardRulesFile;
  /** Of the file that the rules are from. */
  readonly name: string;
  readonly trial: Trial;
}

/** Whether everybody got a track, here or in another yard, without waiting for one, and left without somebody in the way. */
export const isWithoutHarm = ({ trial }: TriedYard): boolean =>
  trial.stays.every(
    ({ berth, sent, waited, buriedBy }) =>
      (berth !== null || sent !== null) && waited === 0 && buriedBy.length === 0,
  );

/** The rules of a yard as sentences, and what became of every stay by them. */
export function trialText(world: World, tried: TriedYard): string {
  const { yard, rules, name, trial } = tried;
  const names = ruleNames(world.layout.file, world.stock.file, rules.yard);
  const put = trial.stays.filter(({ rule }) => rule !== null).sort((a, b) => putAt(a) - putAt(b));
  const labels = put.map(({ stay }) => world.stock.trains[yard.stays[stay]!.train]!.file.label);
  const wide = Math.max(4, ...labels.map(({ length }) => length));
  return [
    `${names.yard}: “${name}” tried on ${counted(yard.stays.length, 'stay')} in ${counted(yard.tracks.length, 'track')}`,
    ...yardSentences(rules, names).map((sentence) => `  ${sentence}`),
    '',
    ...put.map((stay) => `  ${stayLine(world, tried, stay, wide)}`),
    '',
    ...harmLines(world, tried).map((line) => `  ${line}`),
    ...keptOut(world, yard).map((it) => `  ${keptOutText(world, it)}`),
  ].join('\n');
}

function stayLine(
  world: World,
  { yard, rules }: TriedYard,
  { stay, placed, berth, sent, rule }: TriedStay,
  wide: number,
): string {
  const { train, berths } = yard.stays[stay]!;
  const { label } = world.stock.trains[train]!.file;
  if (sent !== null) {
    const { name } = world.layout.file.stations.find(({ id }) => id === sent.to)!;
    return `${clock(sent.at)} ${label.padEnd(wide)} to ${name} instead, for no rule found a track`;
  }
  const track = yard.tracks[berths[berth!]!.track]!.id;
  const why =
    rule!.list === 'arrivals'
      ? `rule ${rule!.place + 1} of ${rules.arrivals.length}`
      : 'for no rule found a track';
  return `${clock(placed)} ${label.padEnd(wide)} to track ${track}, ${why}`;
}

const putAt = ({ placed, sent }: TriedStay): number => placed ?? sent?.at ?? 0;

/** Who found no track, who waited, who was in whose way; a line each, or that there is nothing of the kind. */
function harmLines(world: World, { yard, trial }: TriedYard): string[] {
  const label = (stay: number): string => world.stock.trains[yard.stays[stay]!.train]!.file.label;
  const lines = trial.stays.flatMap(({ stay, berth, sent, waited, asked, buriedBy, left }) => {
    const { booked } = yard.stays[stay]!;
    const waits = `${label(stay)} waits outside from ${clock(booked.arrive)}`;
    return [
      ...(berth === null && sent === null
        ? [`${waits} and finds no track in the session${asked ? '; a person is asked' : ''}`]
        : waited > 0
          ? [`${waits} for ${minutes(waited)}${asked ? '; a person is asked' : ''}`]
          : []),
      ...(buriedBy.length === 0
        ? []
        : [
            `${label(stay)} is to leave at ${clock(booked.depart)}, but ${buriedBy.map(label).join(', ')} ` +
              `${buriedBy.length === 1 ? 'stands' : 'stand'} in its way; ` +
              (left === null ? 'it does not get out' : `it leaves at ${clock(left)}`),
          ]),
    ];
  });
  const sent = trial.stays.some((it) => it.sent !== null);
  return lines.length === 0
    ? [
        sent
          ? 'Everybody else finds a track at once, and nobody is in another’s way.'
          : 'Everybody finds a track at once, and nobody is in another’s way.',
      ]
    : lines;
}

/** What became of every stay, for other programs. Times are fast-clock ms since midnight. */
export const triedAsJson = (world: World, { yard, rules, trial }: TriedYard): unknown => ({
  yard: rules.yard,
  stays: trial.stays.map(({ stay, berth, buriedBy, ...rest }) => {
    const { train, berths, booked } = yard.stays[stay]!;
    const idOf = (index: number): string => world.stock.trains[yard.stays[index]!.train]!.file.id;
    return {
      train: world.stock.trains[train]!.file.id,
      arrive: booked.arrive,
      depart: booked.depart,
      track: yard.tracks[berths[berth ?? -1]?.track ?? -1]?.id ?? null,
      ...rest,
      buriedBy: buriedBy.map(idOf),
    };
  }),
});

const clock = (fast: number | null): string =>
  fast === null ? '…' : formatClockText(fastTime(fast));

const minutes = (fast: number): string => `${Math.round(fast / 60_000)} min`;

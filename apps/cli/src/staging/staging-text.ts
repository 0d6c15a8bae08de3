import { fastTime, formatClockText, type World } from '@blockbell/railway';
import {
  keptOut,
  keptOutText,
  type Allocation,
  type BookedStay,
  type BookedYard,
} from '@blockbell/staging';
import { counted } from '../fault-text.js';

/** A yard with what its tracks were given. */
export interface AllocatedYard {
  readonly yard: BookedYard;
  readonly allocation: Allocation;
}

/** A yard as a builder reads it: who stands in which track when, and who is in whose way. */
export function yardText(world: World, { yard, allocation }: AllocatedYard): string {
  const { name } = world.layout.stations[yard.station]!.file;
  const longest = Math.max(...yard.tracks.map(({ id }) => id.length));
  return [
    `${name}: ${counted(yard.stays.length, 'stay')} in ${counted(yard.tracks.length, 'track')}`,
    ...yard.tracks.map(
      ({ id }, track) =>
        `  ${id.padEnd(longest)}  ${staysIn(world, yard, allocation, track) || 'stays empty'}`,
    ),
    `  ${verdict(allocation)}`,
    ...burialLines(world, yard, allocation),
    ...keptOut(world, yard).map((it) => `  ${keptOutText(world, it)}`),
  ].join('\n');
}

function staysIn(world: World, yard: BookedYard, { berths }: Allocation, track: number): string {
  return yard.stays
    .filter(({ berths: its }, stay) => its[berths[stay] ?? -1]?.track === track)
    .sort((a, b) => a.arrive - b.arrive)
    .map((stay) => `${labelOf(world, stay)} ${spanText(stay)}`)
    .join(', ');
}

/** What an allocation comes to, in a sentence. */
export function verdict({ unplaced, burials, proven }: Allocation): string {
  if (unplaced.length === 0 && burials.length === 0) return 'Nobody is in another’s way.';
  const harm = [
    ...(unplaced.length === 0 ? [] : [`${counted(unplaced.length, 'stay')} without a track`]),
    ...(burials.length === 0
      ? []
      : [`${counted(burials.length, 'departure')} with a train in the way`]),
  ].join(' and ');
  return proven
    ? `${harm}; fewer are not possible with these times and tracks.`
    : `${harm}; whether fewer are possible was not found out.`;
}

/** Who has no track, and who is in whose way; a line each. */
export function burialLines(world: World, yard: BookedYard, allocation: Allocation): string[] {
  return [
    ...allocation.unplaced.map((index) => {
      const stay = yard.stays[index]!;
      return `  no track has room for ${labelOf(world, stay)} ${spanText(stay)}`;
    }),
    ...allocation.burials.map(({ stay, by }) => {
      const [buried, other] = [yard.stays[stay]!, yard.stays[by]!];
      const { id } = yard.tracks[buried.berths[allocation.berths[stay]!]!.track]!;
      return (
        `  ${labelOf(world, buried)} can’t leave track ${id} at ${timeText(buried.booked.depart)}: ` +
        `${labelOf(world, other)} stands in its way ${spanText(other)}`
      );
    }),
  ];
}

const labelOf = (world: World, { train }: BookedStay): string =>
  world.stock.trains[train]!.file.label;

const timeText = (fast: number | null): string =>
  fast === null ? '…' : formatClockText(fastTime(fast));

const spanText = ({ booked: { arrive, depart } }: BookedStay): string =>
  `${timeText(arrive)}–${timeText(depart)}`;

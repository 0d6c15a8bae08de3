import { blockOf } from '../../layout/layout.js';
import { refusal, type Refusal } from '../../session/refusal.js';
import type { Seen } from '../../session/writer.js';
import { formatClockText } from '../../timetable/clock-text.js';
import type { Call, Service } from '../../timetable/timetable.js';
import { fastTime } from '../../units.js';
import type { PlaceInWork } from './place-in-work.js';

/** The station where a train stands, or its held way ends, by its index; −1: none. */
export function stationOfTrain({ world, state }: Seen, index: number): number {
  const { heading } = world.graphs[index]!.placeOf(state.trains[index]!.node);
  return world.layout.stations.findIndex(({ tracks }) =>
    tracks.some(({ blocks }) => blocks.includes(blockOf(heading))),
  );
}

/**
 * Whether a service that runs so much later than booked (`late`, fast ms) begins where and when the train is there, and ends where and
 * before it goes on; else what would mend it.
 */
export function whyNotJoined(
  seen: Seen,
  index: number,
  { calls, file }: Service,
  { before, after }: Pick<PlaceInWork, 'before' | 'after'>,
  late = 0,
): Refusal | null {
  const { world } = seen;
  const { label } = world.stock.trains[index]!.file;
  const nameAt = (station: number): string => world.layout.stations[station]!.file.name;
  const [first, last] = [calls[0]!, calls.at(-1)!];
  const end: Call | null = before?.calls.at(-1) ?? null;
  const station = end?.station ?? stationOfTrain(seen, index);
  if (station >= 0 && station !== first.station) {
    const by = before === null ? 'stands' : `will be, after ${before.file.name},`;
    return refusal(
      'apart',
      `${label} ${by} at ${nameAt(station)}, and ${file.name} begins at ${nameAt(first.station)}. ` +
        `Let it begin at ${nameAt(station)}, or add a service that takes the train to ${nameAt(first.station)} first.`,
    );
  }
  if (end !== null && isAfter(end.arrive, first.depart)) {
    return refusal(
      'not-free',
      `${label} comes to ${nameAt(first.station)} at ${at(end.arrive)} with ${before!.file.name}. Let ${file.name} leave then or later.`,
    );
  }
  if (after === null) return null;
  const begin = after.calls[0]!;
  if (begin.station !== last.station) {
    return refusal(
      'apart',
      `After ${file.name}, ${label} would be at ${nameAt(last.station)}, and ${after.file.name} begins at ${nameAt(begin.station)}. ` +
        `Let it end at ${nameAt(begin.station)}, put it behind what the train has to do, or cancel that first.`,
    );
  }
  const arrive = last.arrive === null ? null : last.arrive + late;
  return isAfter(arrive, begin.depart)
    ? refusal(
        'not-free',
        `${file.name} comes to ${nameAt(last.station)} at ${at(arrive)}, and ${after.file.name} leaves there at ${at(begin.depart)}. ` +
          'Let it run earlier, or put it where there is more time.',
      )
    : null;
}

const isAfter = (one: number | null, other: number | null): boolean =>
  one !== null && other !== null && one > other;

const at = (time: number | null): string => formatClockText(fastTime(time ?? 0));

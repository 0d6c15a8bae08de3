import { opposite, type Heading } from '../../layout/layout.js';
import { fitsTrack, permittedIn } from '../../layout/standing-room.js';
import { runningTime } from '../../movement/running-time.js';
import type { Seen } from '../../session/writer.js';
import { formatClockText } from '../../timetable/clock-text.js';
import { tracksOf } from '../../timetable/compile-timetable.js';
import type { CallFile } from '../../timetable/timetable-file.js';
import { fastTime, mm } from '../../units.js';

/** Times given to services that have none are whole minutes of the fast clock. */
const MINUTE = 60_000;

/**
 * The calls with times: from `free` (fast ms) on, each the least running time later that the shortest way takes at the train's top
 * speed, with its dwell, all rounded up to the minute.
 * @param from headings at whose ends the train may stand before the first
 */
export function withTimes(
  seen: Seen,
  train: number,
  calls: readonly CallFile[],
  from: readonly Heading[],
  free: number,
): CallFile[] {
  let at = upToMinute(free);
  let standing: readonly Heading[] = from;
  return calls.map((call, index) => {
    const isLast = index === calls.length - 1;
    if (index > 0) {
      const goals = headingsOf(seen, train, call);
      at = upToMinute(at + Math.max(1, leastTime(seen, train, standing, goals)));
      standing = goals;
    }
    const arrive = index === 0 ? {} : { arrive: textOf(at) };
    if (index > 0 && !isLast && call.stop !== 'pass')
      at = upToMinute(at + (call.dwell?.fast ?? 0) * 1000);
    const depart = isLast ? {} : { depart: textOf(at) };
    return call.stop === 'pass' ? { ...call, ...depart } : { ...call, ...arrive, ...depart };
  });
}

const upToMinute = (time: number): number => Math.ceil(time / MINUTE) * MINUTE;
const textOf = (time: number): string => formatClockText(fastTime(time));

/** Headings in which the train may come to stand at a call. */
function headingsOf({ world }: Seen, train: number, call: CallFile): Heading[] {
  const { layout, stock } = world;
  const station = layout.stations.find(({ file }) => file.id === call.station);
  const { length } = stock.trains[train]!;
  return (station === undefined ? [] : tracksOf(call, station))
    .filter(({ blocks }) => call.stop === 'pass' || fitsTrack(layout, blocks, length))
    .flatMap(({ blocks }) => permittedIn(layout, blocks));
}

/** Fast ms from one of some headings to the nearest of others; 0 where no way is found: that is refused later. */
function leastTime(
  { world, state }: Seen,
  index: number,
  from: readonly Heading[],
  to: readonly Heading[],
): number {
  const train = world.stock.trains[index]!;
  const table = world.book.tables.to(to);
  const starts = train.file.canReverse ? from.flatMap((it) => [it, opposite(it)]) : from;
  const distance = Math.min(...starts.map((it) => table[it] ?? Infinity));
  if (!Number.isFinite(distance)) return 0;
  const time = runningTime([{ length: mm(Math.round(distance)), limit: train.topSpeed }], train);
  return Math.ceil(time * state.session.clock.ratio);
}

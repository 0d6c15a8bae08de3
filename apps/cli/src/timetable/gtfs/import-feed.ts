import type { FeedMap } from '@blockbell/contract';
import {
  formatClockText,
  parseClockText,
  type CallFile,
  type Fault,
  type ServiceFile,
  type ServiceId,
  type TimetableFile,
} from '@blockbell/railway';
import { departureOf, withServices } from '@blockbell/timetabling';
import { isRun } from './service-days.js';
import type { Feed, FeedLine } from './read-feed.js';

export type ImportedFeed =
  | {
      readonly ok: true;
      readonly timetable: TimetableFile;
      /** Trips of the day that call at fewer than two mapped stops, or that no mapped block runs. */
      readonly leftOut: number;
    }
  | {
      readonly ok: false;
      /** Faults of the feed, by its tables' lines. */
      readonly faults: readonly Fault[];
      /** Faults of the map. */
      readonly inMap: readonly Fault[];
    };

/**
 * The timetable with a day of a public-transport feed in place of its services: the trips of mapped blocks, at mapped stops. Its
 * clock, workings' trains and stored places stay; connections of services that are gone go. What is wrong is named by file and line.
 */
export function importFeed(feed: Feed, map: FeedMap, timetable: TimetableFile): ImportedFeed {
  const inMap = mapFaults(feed, map, timetable);
  const faults: Fault[] = [];
  const times = new Map<string, { readonly at: FeedLine; readonly sequence: number }[]>();
  const trips = new Map(feed.trips.map((line) => [line.row['trip_id']!, line]));
  for (const at of feed.stopTimes) {
    const id = at.row['trip_id']!;
    const sequence = Number(at.row['stop_sequence']);
    if (!trips.has(id))
      faults.push(inTimes(at, `there is no trip ${id}`, 'name a trip of trips.txt'));
    else if (!Number.isInteger(sequence) || at.row['stop_sequence'] === '')
      faults.push(inTimes(at, 'stop_sequence is no whole number', 'number the stops of a trip'));
    else times.set(id, [...(times.get(id) ?? []), { at, sequence }]);
  }
  const services: (ServiceFile & { readonly working: string })[] = [];
  const ids = new Set<string>();
  let leftOut = 0;
  for (const [id, { row }] of trips) {
    if (!isRun(feed, row['service_id']!, map.date)) continue;
    const working = map.blocks[row['block_id'] ?? ''];
    const rows = (times.get(id) ?? [])
      .toSorted((a, b) => a.sequence - b.sequence)
      .filter(({ at }) => map.stops[at.row['stop_id']!] !== undefined);
    if (working === undefined || rows.length < 2) {
      leftOut++;
      continue;
    }
    const calls = rows.map(({ at }, index) =>
      callOf(at, map, index === 0, index === rows.length - 1, faults),
    );
    const name = row['trip_short_name'] || row['trip_headsign'] || id;
    const own = serviceId(id, ids);
    ids.add(own);
    services.push({ id: own, name, calls, working });
  }
  if (faults.length > 0 || inMap.length > 0) return { ok: false, faults, inMap };
  services.sort((a, b) => departureOf(a) - departureOf(b) || (a.id < b.id ? -1 : 1));
  return {
    ok: true,
    leftOut,
    timetable: withServices(
      timetable,
      services.map(({ id, name, calls }) => ({ id, name, calls })),
      (its) => services.filter(({ working }) => working === its.id).map(({ id }) => id),
    ),
  };
}

/** The longest id that a file may hold. */
const LONGEST_ID = 40;

/** Ids of a feed may hold anything and be long; those of a file begin with a letter. Whatever then is alike is numbered. */
function serviceId(trip: string, taken: ReadonlySet<string>): ServiceId {
  const plain = `G${trip.replaceAll(/[^A-Za-z0-9_.-]/g, '-')}`;
  let id = plain.slice(0, LONGEST_ID);
  for (let number = 2; taken.has(id); number++)
    id = `${plain.slice(0, LONGEST_ID - 1 - String(number).length)}.${number}`;
  return id as ServiceId;
}

function callOf(
  at: FeedLine,
  map: FeedMap,
  isFirst: boolean,
  isLast: boolean,
  faults: Fault[],
): CallFile {
  const station = map.stops[at.row['stop_id']!]!;
  const tracks = map.tracks?.[station];
  const time = (column: string): string => {
    const text = at.row[column]!;
    // A single digit for the hours is allowed there, and hours beyond 24 are.
    const read = parseClockText(/^\d:/.test(text) ? `0${text}` : text);
    if (read === null)
      faults.push(inTimes(at, `${column} is “${text}”`, 'give both times at every mapped stop'));
    return read === null ? text : formatClockText(read);
  };
  return {
    station,
    ...(isFirst ? {} : { arrive: time('arrival_time') }),
    ...(isLast ? {} : { depart: time('departure_time') }),
    ...(tracks === undefined ? {} : { tracks }),
  };
}

function mapFaults(feed: Feed, map: FeedMap, timetable: TimetableFile): Fault[] {
  const stops = new Set(feed.stops.map(({ row }) => row['stop_id']));
  return [
    ...Object.keys(map.stops)
      .filter((stop) => !stops.has(stop))
      .map((stop) => ({
        place: 'stops',
        text: `the feed has no stop ${stop}`,
        mend: 'name stops of stops.txt',
      })),
    ...Object.entries(map.blocks)
      .filter(([, working]) => !timetable.workings.some(({ id }) => id === working))
      .map(([, working]) => ({
        place: 'blocks',
        text: `there is no working ${working}`,
        mend: 'name workings of the timetable',
      })),
  ];
}

const inTimes = ({ line }: FeedLine, text: string, mend: string): Fault => ({
  place: `stop_times.txt, line ${line}`,
  text,
  mend,
});

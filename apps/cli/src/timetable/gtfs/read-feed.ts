import type { Fault } from '@blockbell/railway';
import { strFromU8, unzipSync } from 'fflate';
import { csvLines, type CsvLine } from '../csv/csv-lines.js';

/** The tables a feed is read from, with the columns that are needed of each: GTFS Schedule reference, from memory. */
const TABLES = {
  'stops.txt': ['stop_id'],
  'trips.txt': ['trip_id', 'service_id'],
  'stop_times.txt': ['trip_id', 'stop_id', 'stop_sequence', 'arrival_time', 'departure_time'],
} as const;
/** A feed has one of these or both. */
const CALENDAR = [
  'service_id',
  'monday',
  'tuesday',
  'wednesday',
  'thursday',
  'friday',
  'saturday',
  'sunday',
  'start_date',
  'end_date',
] as const;
const CALENDAR_DATES = ['service_id', 'date', 'exception_type'] as const;

export type FeedLine = CsvLine<string>;

export interface Feed {
  readonly stops: readonly FeedLine[];
  readonly trips: readonly FeedLine[];
  readonly stopTimes: readonly FeedLine[];
  readonly calendar: readonly FeedLine[];
  readonly calendarDates: readonly FeedLine[];
}

export type ReadFeed =
  | { readonly ok: true; readonly feed: Feed }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Reads the tables of a public-transport feed from its zip archive. */
export function readFeed(archive: Uint8Array): ReadFeed {
  let files: Record<string, Uint8Array>;
  try {
    files = unzipSync(archive, { filter: ({ name }) => name.endsWith('.txt') });
  } catch {
    const fault = {
      place: 'file',
      text: 'it is no zip archive',
      mend: 'name the feed as it was published',
    };
    return { ok: false, faults: [fault] };
  }
  const faults: Fault[] = [];
  const table = (name: string, columns: readonly string[], isNeeded = true): FeedLine[] => {
    const file = files[name];
    if (file === undefined) {
      if (isNeeded)
        faults.push({ place: name, text: `there is no ${name}`, mend: 'use a feed that has it' });
      return [];
    }
    const lines = csvLines(strFromU8(file), columns);
    if (Array.isArray(lines)) return lines;
    if (isNeeded || lines.text !== 'there is no row')
      faults.push({ ...lines, place: `${name}, ${lines.place}` });
    return [];
  };
  const hasDates = files['calendar_dates.txt'] !== undefined;
  const feed: Feed = {
    stops: table('stops.txt', TABLES['stops.txt']),
    trips: table('trips.txt', TABLES['trips.txt']),
    stopTimes: table('stop_times.txt', TABLES['stop_times.txt']),
    calendar: table('calendar.txt', CALENDAR, !hasDates),
    calendarDates: table('calendar_dates.txt', CALENDAR_DATES, false),
  };
  return faults.length > 0 ? { ok: false, faults } : { ok: true, feed };
}

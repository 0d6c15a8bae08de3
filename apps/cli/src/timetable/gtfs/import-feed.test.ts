import type { FeedMap } from '@blockbell/contract';
import { exampleFiles } from '@blockbell/examples';
import type { StationId, TimetableFile, WorkingId } from '@blockbell/railway';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { importFeed, type ImportedFeed } from './import-feed.js';
import { readFeed } from './read-feed.js';

const timetable = JSON.parse(exampleFiles('passing-loop').timetable) as TimetableFile;

/** Out and back on weekdays, and once more on a Sunday; the halt is not on the model. */
const TABLES: Readonly<Record<string, string>> = {
  'stops.txt': 'stop_id,stop_name\nL,Lowmarsh\nP,Pennick\nX,"Marsh, halt"\nH,Highmarsh\n',
  'trips.txt':
    'route_id,service_id,trip_id,trip_headsign,block_id\n' +
    'r,week,1/out,Highmarsh,b1\nr,week,1/back,Lowmarsh,b1\nr,sunday,9,Highmarsh,b1\nr,week,7,Depot,b7\n',
  'stop_times.txt':
    'trip_id,arrival_time,departure_time,stop_id,stop_sequence\n' +
    '1/out,8:05:00,8:05:00,L,1\n1/out,8:14:00,8:14:30,X,20\n1/out,8:11:00,8:13:00,P,10\n1/out,8:19:00,8:19:00,H,30\n' +
    '1/back,08:25:00,08:25:00,H,1\n1/back,08:31:00,08:33:00,P,2\n1/back,08:39:00,08:39:00,L,3\n' +
    '9,09:00:00,09:00:00,L,1\n9,09:14:00,09:14:00,H,2\n7,09:00:00,09:00:00,L,1\n7,09:14:00,09:14:00,H,2\n',
  'calendar.txt':
    'service_id,monday,tuesday,wednesday,thursday,friday,saturday,sunday,start_date,end_date\n' +
    'week,1,1,1,1,1,0,0,20260101,20261231\nsunday,0,0,0,0,0,0,1,20260101,20261231\n',
};

const station = (id: string) => id as StationId;
const working = (id: string) => id as WorkingId;

const map: FeedMap = {
  kind: 'blockbell-feed-map',
  version: 1,
  // A Monday.
  date: '20260302',
  stops: { L: station('lowmarsh'), P: station('pennick'), H: station('highmarsh') },
  blocks: { b1: working('W3') },
};

function imported(changes: Record<string, string> = {}, more: Partial<FeedMap> = {}): ImportedFeed {
  const files = Object.entries({ ...TABLES, ...changes }).map(([name, text]) => [
    name,
    strToU8(text),
  ]);
  const read = readFeed(zipSync(Object.fromEntries(files) as Record<string, Uint8Array>));
  return read.ok ? importFeed(read.feed, { ...map, ...more }, timetable) : { ...read, inMap: [] };
}

describe('a public-transport feed', () => {
  it('becomes services: the trips of the day and of mapped blocks, at mapped stops', () => {
    expect(imported()).toMatchObject({
      ok: true,
      leftOut: 1,
      timetable: {
        services: [
          {
            id: 'G1-out',
            name: 'Highmarsh',
            calls: [
              { station: 'lowmarsh', depart: '08:05' },
              { station: 'pennick', arrive: '08:11', depart: '08:13' },
              { station: 'highmarsh', arrive: '08:19' },
            ],
          },
          { id: 'G1-back', calls: [{ depart: '08:25' }, {}, { arrive: '08:39' }] },
        ],
        workings: [{ id: 'W3', train: 'T3', services: ['G1-out', 'G1-back'] }],
      },
    });
  });

  it('runs by the week, but for the dates that are exceptions', () => {
    const servicesOn = (date: string, dates: string) => {
      const read = imported(
        { 'calendar_dates.txt': `service_id,date,exception_type\n${dates}` },
        { date },
      );
      return read.ok ? read.timetable.services.map(({ id }) => id) : read.faults;
    };
    expect(servicesOn('20260301', '')).toEqual(['G9']);
    expect(servicesOn('20260302', 'week,20260302,2\nsunday,20260302,1\n')).toEqual(['G9']);
    expect(servicesOn('20270104', '')).toEqual([]);
  });

  it('gives trips ids of their own, however long and alike theirs are', () => {
    const long = 'trip-'.repeat(10);
    const tables = Object.fromEntries(
      ['trips.txt', 'stop_times.txt'].map((name) => [
        name,
        TABLES[name]!.replaceAll('1/out', `${long}out`).replaceAll('1/back', `${long}back`),
      ]),
    );
    const read = imported(tables);
    if (!read.ok) throw new Error('refused');
    const first = `G${long}`.slice(0, 40);
    const ids = [first, `${first.slice(0, 38)}.2`];
    expect(read.timetable.services.map(({ id }) => id)).toEqual(ids);
    expect(read.timetable.workings).toMatchObject([{ services: ids }]);
  });

  it('takes tracks from the map', () => {
    const tracks = { [station('pennick')]: ['2', '1'] };
    expect(imported({}, { tracks })).toMatchObject({
      timetable: { services: [{ calls: [{}, { tracks: ['2', '1'] }, {}] }, {}] },
    });
  });

  it('is refused with file, line and mend', () => {
    const bad = TABLES['stop_times.txt']!.replace('8:11:00', 'soon').replace(
      '1/back,08:25',
      '5,08:25',
    );
    expect(imported({ 'stop_times.txt': bad })).toMatchObject({
      ok: false,
      faults: [
        { place: 'stop_times.txt, line 6', text: 'there is no trip 5' },
        { place: 'stop_times.txt, line 4', text: 'arrival_time is “soon”' },
      ],
    });
    expect(imported({ 'trips.txt': 'trip_id\n1\n' })).toMatchObject({
      faults: [{ place: 'trips.txt, line 1', text: 'columns are missing: service_id' }],
    });
    expect(
      imported({}, { stops: { Z: station('pennick') }, blocks: { b1: working('W9') } }),
    ).toMatchObject({
      faults: [],
      inMap: [
        { place: 'stops', text: 'the feed has no stop Z' },
        { place: 'blocks', text: 'there is no working W9' },
      ],
    });
    expect(readFeed(strToU8('no archive'))).toMatchObject({
      faults: [{ text: 'it is no zip archive' }],
    });
  });
});

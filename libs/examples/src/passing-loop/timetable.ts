import type { ServiceFile, TimetableFile } from '@blockbell/railway';
import { service, stored, working, type Stop } from '@blockbell/simulation';

const LOWMARSH_TO_HIGHMARSH = ['lowmarsh', 'pennick', 'highmarsh'];
const HIGHMARSH_TO_LOWMARSH = ['highmarsh', 'pennick', 'lowmarsh'];

/** Six minutes to the loop, two there, six on: both trains reach the loop together and cross. */
const shuttle = (stations: readonly string[]): readonly Stop[] => {
  const [from = '', loop = '', to = ''] = stations;
  return [
    { station: from, depart: 0 },
    { station: loop, arrive: 6, depart: 8, dwell: { fast: 60, real: 5 } },
    { station: to, arrive: 14 },
  ];
};

/** Two trains that cross three times in an hour of the fast clock. */
export function passingLoopTimetable(): TimetableFile {
  const departures = ['08:05', '08:25', '08:45'];
  const up = departures.map((at, index): ServiceFile => {
    const way = index % 2 === 0 ? LOWMARSH_TO_HIGHMARSH : HIGHMARSH_TO_LOWMARSH;
    return service(`S3-${index + 1}`, `Shuttle ${index + 1}`, at, shuttle(way));
  });
  const down = departures.map((at, index): ServiceFile => {
    const way = index % 2 === 0 ? HIGHMARSH_TO_LOWMARSH : LOWMARSH_TO_HIGHMARSH;
    return service(`S47-${index + 1}`, `Railmotor ${index + 1}`, at, shuttle(way));
  });
  return {
    kind: 'blockbell-timetable',
    version: 1,
    id: 'passing-loop-timetable',
    name: 'Pennick crossings',
    layout: 'passing-loop',
    stock: 'passing-loop-stock',
    day: 'Monday',
    clock: { start: '08:00', end: '09:05', ratio: 6 },
    services: [...up, ...down],
    connections: [],
    workings: [
      working(
        'W3',
        'T3',
        up.map(({ id }) => id),
      ),
      working(
        'W47',
        'T47',
        down.map(({ id }) => id),
      ),
    ],
    storedPlaces: [stored('T3', 'W1', 'b'), stored('T47', 'E1', 'a')],
  };
}

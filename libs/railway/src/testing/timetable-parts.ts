import type { CallFile, ServiceFile, TimetableFile } from '../timetable/timetable-file.js';

/**
 * A call from a short text: `West 10:00 -` arrives and ends, `West - 10:00` departs first, `Loop 10:05 10:07`
 * calls, `Loop pass 10:05` passes.
 */
export function call(text: string, more: Partial<CallFile> = {}): CallFile {
  const [station = '', first = '', second = ''] = text.split(' ');
  const at = { station: station as CallFile['station'] };
  if (first === 'pass') return { ...at, stop: 'pass', depart: second, ...more };
  return {
    ...at,
    ...(first === '-' ? {} : { arrive: first }),
    ...(second === '-' ? {} : { depart: second }),
    ...more,
  };
}

export const service = (id: string, ...calls: readonly (string | CallFile)[]): ServiceFile => ({
  id: id as ServiceFile['id'],
  name: `Service ${id}`,
  calls: calls.map((it) => (typeof it === 'string' ? call(it) : it)),
});

export const timetableOf = (
  services: readonly ServiceFile[],
  workings: Readonly<Record<string, string>>,
  places: Readonly<Record<string, string>>,
): TimetableFile => ({
  kind: 'blockbell-timetable',
  version: 1,
  id: 'test-timetable',
  name: 'Test timetable',
  layout: 'test-layout',
  stock: 'test-stock',
  day: 'weekday',
  clock: { start: '09:00', end: '13:00', ratio: 6 },
  services,
  connections: [],
  workings: Object.entries(workings).map(([train, list]) => ({
    id: `work-${train}` as TimetableFile['workings'][number]['id'],
    train: train as TimetableFile['workings'][number]['train'],
    services: list.split(' ') as ServiceFile['id'][],
  })),
  storedPlaces: Object.entries(places).map(([train, place]) => {
    const [block, towards] = place.split('>');
    return {
      train: train as TimetableFile['storedPlaces'][number]['train'],
      block: block as TimetableFile['storedPlaces'][number]['block'],
      towards: towards === 'a' ? 'a' : 'b',
    };
  }),
});

/** On the passing loop: P goes from West to East and back, G from East to West; they meet in the loop. */
export const meet = (): TimetableFile =>
  timetableOf(
    [
      service('P1', 'West - 10:00', 'Loop 10:05 10:07', 'East 10:12 -'),
      service('P2', 'East - 10:30', 'Loop pass 10:35', 'West 10:40 -'),
      service('G1', 'East - 09:58', call('Loop 10:03 10:06', { tracks: ['t2'] }), 'West 10:20 -'),
    ],
    { P: 'P1 P2', G: 'G1' },
    { P: 'W>b', G: 'E>b' },
  );

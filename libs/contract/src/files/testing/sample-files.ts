/** A sound layout, stock and timetable as texts: two blocks in a line, one train there and back. */
const detector = () => ({
  id: 'reader',
  reportsIdentity: true,
  readsAtOnce: 4,
  worstDelay: { occupied: 50, free: 100, report: 200 },
  holdOff: 400,
});

const block = (id: string) => ({
  id,
  kind: 'block',
  detection: [{ section: `s-${id}`, length: 1000 }],
  directions: 'both',
  draw: { level: 'ground', ports: { a: [0, 0], b: [10, 0] } },
});

/** Plain data that tests may change before writing it. */
export const sampleLayout = () => ({
  kind: 'blockbell-layout',
  version: 1,
  id: 'line',
  name: 'A line',
  scaleRatio: 87,
  levels: [{ id: 'ground', name: 'Ground', hidden: false }],
  districts: [{ id: 'd1', name: 'All' }],
  buses: [{ id: 'bus', name: 'Bus', silence: { by: 'poll', noticedWithin: 1000 } }],
  detectorTypes: [detector()],
  sections: ['W', 'E'].map((id, index) => ({
    id: `s-${id}`,
    detector: 'reader',
    bus: 'bus',
    address: index + 1,
    district: 'd1',
  })),
  elements: [
    block('W'),
    block('E'),
    { id: 'WE', kind: 'buffer-stop' },
    { id: 'EE', kind: 'buffer-stop' },
  ],
  joins: [
    ['WE.a', 'W.a'],
    ['W.b', 'E.a'],
    ['E.b', 'EE.a'],
  ],
  reversingSections: [],
  stations: ['W', 'E'].map((id, index) => ({
    id: `station-${id}`,
    name: id,
    kind: 'station',
    chainage: index * 5,
    tracks: [{ id: 't1', name: '1', blocks: [id], platform: true }],
  })),
});

export const sampleStock = () => ({
  kind: 'blockbell-stock',
  version: 1,
  id: 'one-train',
  name: 'One train',
  locomotives: [
    {
      id: 'L1',
      name: 'Shunter',
      address: { kind: 'short', number: 3 },
      length: 140,
      topSpeed: 150,
      speedTable: {
        forward: [{ step: 126, speed: 160 }],
        reverse: [{ step: 126, speed: 155 }],
      },
      acceleration: 60,
      braking: 90,
      spread: { speed: 5, braking: 8 },
      answers: true,
      runOn: 10,
    },
  ],
  cars: [{ id: 'van', name: 'Van', length: 120, detected: true }],
  trains: [
    {
      id: 'T1',
      label: 'T1',
      name: 'Shuttle',
      class: 'passenger',
      priority: 5,
      vehicles: [
        { locomotive: 'L1', facing: 'forward' },
        { car: 'van', count: 2 },
      ],
      canReverse: true,
    },
  ],
});

export const sampleTimetable = () => ({
  kind: 'blockbell-timetable',
  version: 1,
  id: 'shuttle',
  name: 'Shuttle',
  layout: 'line',
  stock: 'one-train',
  day: 'every day',
  clock: { start: '08:00', end: '10:00', ratio: 6 },
  services: [
    {
      id: 'S1',
      name: 'There',
      calls: [
        { station: 'station-W', depart: '08:10' },
        { station: 'station-E', arrive: '08:15' },
      ],
    },
  ],
  connections: [],
  workings: [{ id: 'W1', train: 'T1', services: ['S1'] }],
  storedPlaces: [{ train: 'T1', block: 'W', towards: 'b' }],
});

export const write = (value: unknown): string => JSON.stringify(value, null, 2);

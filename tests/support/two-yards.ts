import type { StagingRulesFile, YardRulesFile } from '@blockbell/railway';
import { exampleRailway } from './railways.js';

const loop = exampleRailway('passing-loop');
const [service] = loop.timetable.services as [(typeof loop.timetable.services)[number]];
type Id = (typeof loop.layout.stations)[number]['id'];
const station = (id: string) => loop.layout.stations.find((it) => it.id === id)!;
const near = 'near' as Id;
const far = 'far' as Id;
const track = (id: string) => ({
  id: id as (typeof loop.layout.stations)[0]['tracks'][0]['id'],
  name: id,
  blocks: loop.layout.elements.flatMap((it) => (it.id === id ? [it.id] : [])),
  platform: false,
});

/** The passing loop with two hidden yards of one track each: near (P1, in the loop) and far (E1, at the end of the line). */
const layout = {
  ...loop.layout,
  stations: [
    station('lowmarsh'),
    {
      ...station('pennick'),
      id: near,
      name: 'Near',
      kind: 'staging-yard' as const,
      tracks: [track('P1')],
    },
    {
      ...station('highmarsh'),
      id: far,
      name: 'Far',
      kind: 'staging-yard' as const,
      tracks: [track('E1')],
    },
  ],
};

/** Train 1047 stands in the near yard until 08:45; train 3 comes there from Lowmarsh at 08:10, and goes back at 08:30 unless it is to stay. */
function timetable(stays: boolean): typeof loop.timetable {
  const services = [
    ['out-47', near, '08:45', far, '08:52'],
    ['in-3', 'lowmarsh', '08:03', near, '08:10'],
    ...(stays ? [] : [['back-3', near, '08:30', 'lowmarsh', '08:37']]),
  ].map(([id, from, depart, to, arrive]) => ({
    ...service,
    id: id as typeof service.id,
    name: id!,
    calls: [
      { station: from as Id, depart: depart! },
      { station: to as Id, arrive: arrive! },
    ],
  }));
  const of = (train: string) =>
    services.flatMap(({ id }) => (id.endsWith(`-${train}`) ? [id] : []));
  return {
    ...loop.timetable,
    services,
    connections: [],
    workings: loop.timetable.workings.map((working) => ({
      ...working,
      services: of(working.train === 'T47' ? '47' : '3'),
    })),
    storedPlaces: loop.timetable.storedPlaces.map((place) => ({
      ...place,
      block: loop.layout.elements.find(({ id }) => id === (place.train === 'T47' ? 'P1' : 'W1'))!
        .id,
      towards: 'b' as const,
    })),
  };
}

/** @param stays whether train 3 is to end its work in the near yard */
export const twoYards = (stays = false) => ({ ...loop, layout, timetable: timetable(stays) });

/** Rules of the near yard: any track with room, save for what is said otherwise; the far one has none. */
export const nearRules = (rules: Partial<YardRulesFile>): StagingRulesFile => ({
  kind: 'blockbell-staging-rules',
  version: 1,
  id: 'near-rules',
  name: 'Near rules',
  layout: layout.id,
  yards: [
    {
      yard: near,
      arrivals: [{ order: [] }],
      nothingFits: [],
      departures: { order: [], requests: [] },
      moveUp: 'on-arrival',
      ...rules,
    },
  ],
});

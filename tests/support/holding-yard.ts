import type { StagingRulesFile, YardRulesFile } from '@blockbell/railway';
import { exampleRailway } from './railways.js';

const loop = exampleRailway('passing-loop');
const [service] = loop.timetable.services as [(typeof loop.timetable.services)[number]];
const station = (id: string) => loop.layout.stations.find((it) => it.id === id)!;
const pennick = station('pennick').id;
const highmarsh = station('highmarsh').id;
const holding = 'holding' as typeof pennick;

/** The passing loop with the line behind it as a hidden yard: one track of two slots, L3 and L4, that trains may run through. */
const layout = {
  ...loop.layout,
  stations: [
    ...loop.layout.stations,
    {
      ...station('highmarsh'),
      id: holding,
      name: 'Holding',
      kind: 'staging-yard' as const,
      chainage: 6,
      tracks: [
        {
          id: 'H' as (typeof loop.layout.stations)[0]['tracks'][0]['id'],
          name: 'H',
          blocks: loop.layout.elements.flatMap(({ id }) =>
            id === 'L3' || id === 'L4' ? [id] : [],
          ),
          platform: false,
        },
      ],
    },
  ],
};

/** Train 1047 comes first and goes on east at 08:30; train 3 comes behind it and goes back west at 08:45. */
const timetable = {
  ...loop.timetable,
  services: [
    ['east-47', pennick, '08:03', holding, '08:10'],
    ['on-47', holding, '08:30', highmarsh, '08:36'],
    ['east-3', pennick, '08:14', holding, '08:21'],
    ['back-3', holding, '08:45', pennick, '08:51'],
  ].map(([id, from, depart, to, arrive]) => ({
    ...service,
    id: id as typeof service.id,
    name: id!,
    calls: [
      { station: from as typeof pennick, depart: depart! },
      { station: to as typeof pennick, arrive: arrive! },
    ],
  })),
  workings: loop.timetable.workings.map((working) => ({
    ...working,
    services: (working.train === 'T47'
      ? ['east-47', 'on-47']
      : ['east-3', 'back-3']) as (typeof service.id)[],
  })),
  storedPlaces: loop.timetable.storedPlaces.map((place) => ({
    ...place,
    block: loop.layout.elements.find(({ id }) => id === (place.train === 'T47' ? 'P1' : 'P2'))!.id,
    towards: 'b' as const,
  })),
};
/** The passing loop with that yard and that timetable. */
export const holdingYard = { ...loop, layout, timetable };

const isOpen = (id: string): boolean => ['on-47', 'back-3'].includes(id);

/** The same, but for what leaves the yard: that names no train, so that either may go on or back. */
export const openHoldingYard = {
  ...holdingYard,
  timetable: {
    ...timetable,
    services: timetable.services.filter(({ id }) => !isOpen(id)),
    openServices: timetable.services
      .filter(({ id }) => isOpen(id))
      .map((it) => ({ ...it, waitAtMost: 20 })),
    workings: timetable.workings.map((working) => ({
      ...working,
      services: working.services.filter((id) => !isOpen(id)),
    })),
  },
};

/** Rules of the yard: any track with room, save for what is said otherwise. */
export const holdingRules = (rules: Partial<YardRulesFile>): StagingRulesFile => ({
  kind: 'blockbell-staging-rules',
  version: 1,
  id: 'holding-rules',
  name: 'Holding rules',
  layout: layout.id,
  yards: [
    {
      yard: holding,
      arrivals: [{ order: [] }],
      nothingFits: [],
      departures: { order: [], requests: [] },
      moveUp: 'on-arrival',
      ...rules,
    },
  ],
});

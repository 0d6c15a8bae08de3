import type {
  CallFile,
  DepartureOrder,
  OpenServiceFile,
  ServiceId,
  StagingRulesFile,
  StationId,
  YardRulesFile,
} from '@blockbell/railway';
import { exampleRailway } from './railways.js';

const demo = exampleRailway('demo');
const FREIGHT = ['T61', 'T62', 'T63'];

const callsOf = (id: string): readonly CallFile[] =>
  demo.timetable.services.find((it) => it.id === id)!.calls;

/** Out and back as one service: where the first ends, the second begins. */
function roundTrip(train: string): readonly CallFile[] {
  const [out, back] = [callsOf(`S${train}-1`), callsOf(`S${train}-2`)];
  const { arrive } = out.at(-1)!;
  return [...out.slice(0, -1), { ...back[0]!, arrive: arrive! }, ...back.slice(1)];
}

const openService = (train: string, more: Partial<OpenServiceFile>): OpenServiceFile => ({
  id: `F${train}` as ServiceId,
  name: `Freight ${train}`,
  calls: roundTrip(train),
  classes: ['freight'],
  waitAtMost: 30,
  ...more,
});

/** The demo in which three round trips from its yard name no freight train, and its three freight trains there have no other work. */
export function openFreight(more: Partial<OpenServiceFile> = {}) {
  const { timetable } = demo;
  const workings = timetable.workings.filter(({ train }) => !FREIGHT.includes(train));
  const worked = new Set(workings.flatMap(({ services }) => services));
  return {
    ...demo,
    timetable: {
      ...timetable,
      workings,
      services: timetable.services.filter(({ id }) => worked.has(id)),
      openServices: ['61', '62', '63'].map((train) => openService(train, more)),
    },
  };
}

/** Rules of that yard: any track with room, and so much of its departures. */
export const yardRules = (
  order: readonly DepartureOrder[],
  requests: YardRulesFile['departures']['requests'] = [],
): StagingRulesFile => ({
  kind: 'blockbell-staging-rules',
  version: 1,
  id: 'freight-rules',
  name: 'Freight rules',
  layout: demo.layout.id,
  yards: [
    {
      yard: 'undercroft' as StationId,
      arrivals: [{ order: [] }],
      nothingFits: [],
      departures: { order, requests },
      moveUp: 'on-arrival',
    },
  ],
});

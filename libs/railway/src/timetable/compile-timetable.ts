import { headingOf } from '../layout/layout.js';
import type { Heading, Layout, Station } from '../layout/layout.js';
import { fitsTrack } from '../layout/standing-room.js';
import type { Stock, Train } from '../stock/train.js';
import { fastTime, ms } from '../units.js';
import type { FastTime } from '../units.js';
import { parseClockText } from './clock-text.js';
import type { CallFile, ServiceFile, TimetableFile } from './timetable-file.js';
import type { Call, Service, Timetable, Working } from './timetable.js';

/** Least dwell where the planner says nothing: seconds on the fast clock, and real ones. */
const DEFAULT_DWELL = { fast: 30, real: 3 };

/**
 * Resolves names and times. The file must be valid against the same layout and stock (`validateTimetable` finds
 * no fault); a reference to something unknown is a bug here and throws.
 *
 * A call's tracks are those its train fits, in the planner's order of preference or else in the station's. A pass
 * with one time has it as both its arrival and its departure.
 */
export function compileTimetable(file: TimetableFile, layout: Layout, stock: Stock): Timetable {
  const stations = stationsById(layout);
  const serviceIndex = new Map<string, number>(file.services.map(({ id }, index) => [id, index]));
  const service = (id: string): number => known(serviceIndex.get(id), 'service', id);
  const trainIndex = (id: string): number => known(stock.trainByName.get(id), 'train', id);
  const station = (id: string): Station => known(stations.get(id), 'station', id);

  const trainOf = new Map<string, Train>();
  const workings: (Working | null)[] = stock.trains.map(() => null);
  for (const working of file.workings) {
    const train = trainIndex(working.train);
    workings[train] = { file: working, train, services: working.services.map(service) };
    for (const id of working.services) trainOf.set(id, known(stock.trains[train], 'train', id));
  }

  const storedPlaces: (Heading | null)[] = stock.trains.map(() => null);
  for (const place of file.storedPlaces) {
    const block = known(layout.elementByName.get(place.block), 'block', place.block);
    storedPlaces[trainIndex(place.train)] = headingOf(block, place.towards);
  }

  return {
    start: time(file.clock.start),
    end: time(file.clock.end),
    ratio: file.clock.ratio,
    services: compileServices(
      file.services.map((it) => ({
        file: it,
        train: known(trainOf.get(it.id), 'working of', it.id),
      })),
      0,
      layout,
    ),
    openServices: (file.openServices ?? []).map((open) => {
      const [begin] = open.calls;
      const depart = time(begin?.depart ?? '');
      return {
        file: open,
        station: station(begin?.station ?? '').index,
        depart,
        until: fastTime(depart + open.waitAtMost * 60_000),
      };
    }),
    connections: file.connections.map((connection) => ({
      file: connection,
      from: service(connection.from),
      to: service(connection.to),
      station: station(connection.station).index,
      transfer: ms(connection.transfer * 1000),
      holdAtMost: ms(connection.holdAtMost * 1000),
    })),
    workings,
    storedPlaces,
  };
}

/** Services of trains, numbered from `first` on. */
export function compileServices(
  services: readonly { readonly file: ServiceFile; readonly train: Train }[],
  first: number,
  layout: Layout,
): Service[] {
  const stations = stationsById(layout);
  return services.map(({ file, train }, at) =>
    compileService(file, first + at, layout, stations, train),
  );
}

export const stationsById = (layout: Layout): ReadonlyMap<string, Station> =>
  new Map(layout.stations.map((it) => [it.file.id, it]));

function compileService(
  file: ServiceFile,
  index: number,
  layout: Layout,
  stations: ReadonlyMap<string, Station>,
  train: Train,
): Service {
  return {
    index,
    file,
    calls: file.calls.map((call): Call => {
      const at = known(stations.get(call.station), 'station', call.station);
      const stops = (call.stop ?? 'call') === 'call';
      const dwell = call.dwell ?? (stops ? DEFAULT_DWELL : { fast: 0, real: 0 });
      return {
        station: at.index,
        ...timesOf(call, stops),
        stops,
        tracks: tracksOf(call, at)
          .filter(({ blocks }) => !stops || fitsTrack(layout, blocks, train.length))
          .map(({ name, blocks }) => ({ name, blocks })),
        dwellFast: ms(dwell.fast * 1000),
        dwellReal: ms(dwell.real * 1000),
      };
    }),
  };
}

function timesOf(call: CallFile, stops: boolean): Pick<Call, 'arrive' | 'depart'> {
  const arrive = call.arrive === undefined ? null : time(call.arrive);
  const depart = call.depart === undefined ? null : time(call.depart);
  return stops ? { arrive, depart } : { arrive: arrive ?? depart, depart: depart ?? arrive };
}

/** The tracks a call names, in its order; all of the station's where it names none. */
export function tracksOf(call: CallFile, station: Station): Station['tracks'] {
  if (call.tracks === undefined) return station.tracks;
  return call.tracks.flatMap((id) => {
    const track = station.tracks[station.file.tracks.findIndex((it) => it.id === id)];
    return track === undefined ? [] : [track];
  });
}

const time = (text: string): FastTime => known(parseClockText(text), 'time', text);

function known<T>(found: T | undefined | null, what: string, id: string): T {
  if (found === undefined || found === null) {
    throw new Error(`the timetable was not validated: no ${what} ${id}`);
  }
  return found;
}

import type { TimetableFile, World } from '@blockbell/railway';
import { stationAt } from '../booking/station-at.js';
import type { Finding } from '../findings/finding.js';
import { clock, label, stationName } from '../findings/words.js';

/** Services of a working that begin elsewhere than where the train is. */
export const checkWorkings = (world: World): Finding[] =>
  world.timetable.workings.flatMap((working) => {
    if (working === null) return [];
    const { layout, timetable, stock } = world;
    return working.services.flatMap((index, i): Finding[] => {
      const service = timetable.services[index]!;
      const first = service.calls[0]!;
      const before = timetable.services[working.services[i - 1] ?? -1];
      const last = before?.calls.at(-1);
      const stands = before === undefined ? storedAt(world, working.train) : last!.station;
      if (stands === first.station) return [];
      const id = service.file.id;
      const at = stationName(layout, first.station);
      const where = stands === null ? 'away from every station' : stationName(layout, stands);
      const from = first.depart ?? timetable.start;
      return [
        {
          kind: 'workings-apart',
          weight: 'breaks',
          services: before === undefined ? [id] : [id, before.file.id],
          place: at,
          stations: [first.station, ...(stands === null ? [] : [stands])].map(
            (station) => layout.stations[station]!.file.id,
          ),
          from: Math.min(last?.arrive ?? from, from) as Finding['from'],
          until: Math.max(last?.arrive ?? from, from) as Finding['until'],
          missing: 0,
          text:
            `${id} begins at ${at} at ${clock(from)}, but ${label(world, working.train)} ` +
            (before === undefined
              ? `is stored at ${where}.`
              : `has come to ${where} with ${before.file.id}.`),
          proposal: {
            text:
              before === undefined
                ? `store ${stock.trains[working.train]!.file.id} in a track of ${at}`
                : `put a service from ${where} to ${at} between them, or give ${id} to a train that ends at ${at}`,
            changes: [],
          },
        },
      ];
    });
  });

/** The station in whose track a train is stored; null if in none. */
function storedAt({ layout, timetable }: World, train: number): number | null {
  const heading = timetable.storedPlaces[train];
  if (heading == null) return null;
  return stationAt(layout, heading)?.index ?? null;
}

/** Services booked before the session begins, or after it ends. */
export const checkSession = (
  { layout, timetable }: World,
  { clock: hours }: TimetableFile,
): Finding[] =>
  timetable.services.flatMap(({ file, calls }): Finding[] => {
    const [first, last] = [calls[0]!, calls.at(-1)!];
    const begins = first.depart ?? timetable.start;
    const ends = last.arrive ?? timetable.end;
    const early = timetable.start - begins;
    const late = ends - timetable.end;
    if (early <= 0 && late <= 0) return [];
    const station = early > 0 ? first.station : last.station;
    return [
      {
        kind: 'outside-session',
        weight: 'breaks',
        services: [file.id],
        place: stationName(layout, station),
        stations: [layout.stations[station]!.file.id],
        from: begins,
        until: ends,
        missing: Math.max(early, late),
        text:
          early > 0
            ? `${file.id} leaves ${stationName(layout, station)} at ${clock(begins)}, before the session begins at ${hours.start}.`
            : `${file.id} arrives at ${stationName(layout, station)} at ${clock(ends)}, after the session ends at ${hours.end}.`,
        proposal: {
          text:
            early > 0
              ? `let the session begin at ${clock(begins)}, or book ${file.id} later`
              : `let the session end at ${clock(ends)}, or book ${file.id} earlier`,
          changes: [],
        },
      },
    ];
  });

/** Connections without the time to change. */
export const checkTransfers = ({ layout, timetable }: World): Finding[] =>
  timetable.connections.flatMap(({ file, from, to, station, transfer }): Finding[] => {
    const arrive = timetable.services[from]!.calls.find((it) => it.station === station)?.arrive;
    const depart = timetable.services[to]!.calls.find((it) => it.station === station)?.depart;
    if (arrive == null || depart == null || arrive + transfer <= depart) return [];
    const missing = arrive + transfer - depart;
    const at = stationName(layout, station);
    return [
      {
        kind: 'transfer',
        weight: 'breaks',
        services: [file.to, file.from],
        place: at,
        stations: [file.station],
        from: Math.min(arrive, depart) as Finding['from'],
        until: Math.max(arrive, depart) as Finding['until'],
        missing,
        text:
          `${file.to} leaves ${at} at ${clock(depart)}; people who come with ${file.from} at ${clock(arrive)} ` +
          `need ${file.transfer} s to change.`,
        proposal: {
          text: `let ${file.to} leave ${at} at ${clock(Math.ceil((arrive + transfer) / 60_000) * 60_000)} or later`,
          changes: [],
        },
      },
    ];
  });

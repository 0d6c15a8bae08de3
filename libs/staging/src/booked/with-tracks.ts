import type { TimetableFile, World } from '@blockbell/railway';
import type { Allocation } from '../allocation/yard.js';
import type { BookedYard } from './booked-yard.js';

/** A timetable file in which the calls in a yard name the one track that an allocation gives them. */
export function withTracks(
  file: TimetableFile,
  world: World,
  yard: BookedYard,
  allocation: Allocation,
): TimetableFile {
  const { layout, timetable } = world;
  const given = new Map<string, string>();
  yard.stays.forEach(({ calls, berths }, stay) => {
    const berth = berths[allocation.berths[stay] ?? -1];
    if (berth === undefined) return;
    const track = layout.stations[yard.station]!.file.tracks[berth.track]!;
    for (const { service, call } of calls) {
      given.set(`${timetable.services[service]!.file.id} ${call}`, track.id);
    }
  });
  return {
    ...file,
    services: file.services.map((service) => ({
      ...service,
      calls: service.calls.map((call, index) => {
        const track = given.get(`${service.id} ${index}`);
        return track === undefined ? call : { ...call, tracks: [track] };
      }),
    })),
  };
}

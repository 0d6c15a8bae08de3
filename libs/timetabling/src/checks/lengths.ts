import { blockOf, longestIn, standingRoom, type Train, type World } from '@blockbell/railway';
import { stationAt } from '../booking/station-at.js';
import type { Finding } from '../findings/finding.js';
import { clock, label, stationName, trackName } from '../findings/words.js';

/** Trains too long for where they are stored, and for every track of a stop. */
export const checkLengths = (world: World): Finding[] =>
  world.stock.trains.flatMap((train, index) => [
    ...storedTooLong(world, train, index),
    ...(world.timetable.workings[index]?.services ?? []).flatMap((service) =>
      callsTooLong(world, train, service),
    ),
  ]);

function storedTooLong(world: World, train: Train, index: number): Finding[] {
  const { layout, timetable } = world;
  const heading = timetable.storedPlaces[index];
  if (heading == null) return [];
  const room = standingRoom(layout, [blockOf(heading)], heading);
  if (train.length <= room) return [];
  const services = timetable.workings[index]?.services ?? [];
  const place = trackName(layout, blockOf(heading));
  const station = stationAt(layout, heading);
  return [
    {
      kind: 'too-long',
      weight: 'breaks',
      services: services.slice(0, 1).map((service) => timetable.services[service]!.file.id),
      place,
      stations: station === null ? [] : [station.file.id],
      from: timetable.start,
      until: timetable.start,
      missing: train.length - room,
      text: `${label(world, index)} is ${train.length} mm long and stored in ${place}, which holds ${room} mm.`,
      proposal: {
        text: `store it in a longer track, or shorten it by ${train.length - room} mm`,
        changes: [],
      },
    },
  ];
}

function callsTooLong(world: World, train: Train, service: number): Finding[] {
  const { layout, timetable } = world;
  const { file, calls } = timetable.services[service]!;
  return calls.flatMap((call, index): Finding[] => {
    if (!call.stops || call.tracks.length > 0) return [];
    const station = layout.stations[call.station]!;
    const named = file.calls[index]!.tracks;
    const tracks = station.tracks.map(({ name, blocks }, at) => ({
      name,
      id: station.file.tracks[at]!.id,
      room: longestIn(layout, blocks),
    }));
    const allowed = tracks.filter(({ id }) => named === undefined || named.includes(id));
    const room = Math.max(0, ...allowed.map((it) => it.room));
    const [longer] = tracks.filter((it) => it.room >= train.length).sort((a, b) => a.room - b.room);
    const at = call.arrive ?? call.depart ?? timetable.start;
    const name = station.file.name;
    return [
      {
        kind: 'too-long',
        weight: 'breaks',
        services: [file.id],
        place: stationName(layout, call.station),
        stations: [station.file.id],
        from: at,
        until: call.depart ?? at,
        missing: train.length - room,
        text:
          `${file.id} is booked to stop at ${name} at ${clock(at)} with ${label(world, train.index)}, ` +
          `${train.length} mm long; the longest track it may use there holds ${room} mm.`,
        proposal: {
          text:
            longer === undefined
              ? `shorten the train by ${train.length - room} mm, or let it pass ${name}`
              : `let it use track ${longer.name}, which holds ${longer.room} mm`,
          changes: [],
        },
      },
    ];
  });
}

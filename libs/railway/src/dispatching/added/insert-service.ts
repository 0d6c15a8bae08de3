import { longestIn } from '../../layout/standing-room.js';
import { refusal, type Refusal } from '../../session/refusal.js';
import type { Writer } from '../../session/writer.js';
import { compileServices } from '../../timetable/compile-timetable.js';
import type { ServiceFile } from '../../timetable/timetable-file.js';
import type { Service } from '../../timetable/timetable.js';
import { whyNotJoined } from './joins.js';
import type { PlaceInWork } from './place-in-work.js';
import { putInForce } from './put-in-force.js';

/** What a service must fit to in time. */
export interface Joined {
  /** What the train does before, if it has still to do it; null: it is there. */
  readonly before: Service | null;
  /** How much later than booked the service will run, fast ms. */
  readonly late: number;
}

/**
 * Puts a service of a file into the work of a train, compiled as the timetable's own are. Refused where it does not fit the train or
 * what that does before and after, where no way leads along it, or where with it the trains could not all finish.
 */
export function insertService(
  w: Writer,
  index: number,
  file: ServiceFile,
  place: PlaceInWork,
  { before, late }: Joined,
): Refusal | null {
  const train = w.world.stock.trains[index]!;
  const number = w.world.timetable.services.length;
  const [service] = compileServices([{ file, train }], number, w.world.layout);
  const refused =
    tooLong(w, index, service!) ??
    whyNotJoined(w, index, service!, { before, after: place.after }, late);
  if (refused !== null) return refused;
  const { added } = w.state;
  const changed = {
    services: [...added.services, { train: index, file }],
    workings: [
      ...added.workings.filter((it) => it.train !== index),
      { train: index, services: place.services.toSpliced(place.at, 0, number) },
    ],
    elsewhere: added.elsewhere,
  };
  const { label } = train.file;
  const to = w.world.layout.stations[service!.calls.at(-1)!.station]!.file.name;
  return putInForce(w, index, changed, {
    noWay: `No permitted way leads ${label} along this service to ${to} and on with its work. Name other tracks or another place.`,
    condition: `With this service of ${label}`,
  });
}

/** Each stop must have a track that holds the train. */
function tooLong(w: Writer, index: number, { calls, file }: Service): Refusal | null {
  const { layout, stock } = w.world;
  const { length, file: train } = stock.trains[index]!;
  const at = calls.findIndex(({ stops, tracks }) => stops && tracks.length === 0);
  if (at < 0) return null;
  const station = layout.stations[calls[at]!.station]!;
  const longest = Math.max(0, ...station.tracks.map(({ blocks }) => longestIn(layout, blocks)));
  const isNamed = file.calls[at]!.tracks !== undefined && longest >= length;
  return refusal(
    'too-long',
    `${train.label} is ${length} mm long; the longest track at ${station.file.name} holds ${longest} mm. ` +
      (isNamed
        ? 'Leave the track open, or name a longer one.'
        : 'Let it stop elsewhere, or take a shorter train.'),
  );
}

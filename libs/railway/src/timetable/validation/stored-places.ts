import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkReference } from '../../faults/identifiers.js';
import { checkTwice } from '../../faults/numbers.js';
import { headingOf } from '../../layout/layout.js';
import type { Layout } from '../../layout/layout.js';
import { standingRoom } from '../../layout/standing-room.js';
import type { Stock } from '../../stock/train.js';
import type { StoredPlaceFile, TimetableFile } from '../timetable-file.js';

/** Where trains stand at the start: one place each, long enough, and at the station where the work begins. */
export function checkStoredPlaces(
  file: TimetableFile,
  layout: Layout | null,
  stock: Stock | null,
): Fault[] {
  const place = (stored: StoredPlaceFile): string =>
    placeOf('storedPlaces', file.storedPlaces.indexOf(stored), stored.train);
  const stored = new Map<string, StoredPlaceFile>(file.storedPlaces.map((it) => [it.train, it]));
  return [
    ...file.storedPlaces.flatMap((it) => [
      ...(stock === null ? [] : checkReference(stock.trainByName, it.train, 'train', place(it))),
      ...(layout === null ? [] : checkPlace(it, place(it), layout, stock)),
    ]),
    ...checkTwice(file.storedPlaces, ({ train }) => train, place, 'train', 'store a train once'),
    ...checkTwice(
      file.storedPlaces,
      ({ block }) => block,
      place,
      'block',
      'store one train in a block; divide a long track into slots',
    ),
    ...file.workings.flatMap((working, index) => {
      const where = placeOf('workings', index, working.id);
      const start = stored.get(working.train);
      if (start === undefined) {
        return [
          fault(
            where,
            `${working.train} has work but no stored place`,
            'add to storedPlaces where it stands at the start',
          ),
        ];
      }
      return layout === null ? [] : checkStart(file, working.services[0], start, where, layout);
    }),
  ];
}

function checkPlace(
  stored: StoredPlaceFile,
  place: string,
  layout: Layout,
  stock: Stock | null,
): Fault[] {
  const index = layout.elementByName.get(stored.block);
  const element = layout.elements[index ?? -1];
  if (index === undefined || element?.kind !== 'block') {
    return [
      fault(place, `there is no block ${stored.block}`, 'name the block in which the train stands'),
    ];
  }
  const train = stock?.trains[stock.trainByName.get(stored.train) ?? -1];
  const room = standingRoom(layout, [index], headingOf(index, stored.towards));
  return train !== undefined && train.length > room
    ? [
        fault(
          place,
          `the train is ${train.length} mm long, but ${stored.block} holds ${room} mm clear of its stop mark and fouling points`,
          'store it in a longer block, or shorten the train',
        ),
      ]
    : [];
}

/** The train must stand where its first service begins. */
function checkStart(
  file: TimetableFile,
  first: string | undefined,
  stored: StoredPlaceFile,
  where: string,
  layout: Layout,
): Fault[] {
  const begins = file.services.find(({ id }) => id === first)?.calls[0]?.station;
  const station = layout.stations.find((it) => it.file.id === begins);
  const known = layout.elementByName.has(stored.block);
  if (!known || station === undefined) return [];
  return station.file.tracks.some((track) => track.blocks.includes(stored.block))
    ? []
    : [
        fault(
          where,
          `${first} begins at ${begins}, but the train is stored in ${stored.block}`,
          `store it in a track of ${begins}, or begin its working where it stands`,
        ),
      ];
}

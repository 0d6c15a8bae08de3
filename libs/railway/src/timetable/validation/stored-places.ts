import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkReference } from '../../faults/identifiers.js';
import { checkTwice } from '../../faults/numbers.js';
import { headingOf } from '../../layout/layout.js';
import type { Element, Layout } from '../../layout/layout.js';
import { standingRoom } from '../../layout/standing-room.js';
import type { Stock } from '../../stock/train.js';
import type { StoredPlaceFile, TimetableFile } from '../timetable-file.js';

/** Where trains stand at the start: every train with work in one block of its own. */
export function checkStoredPlaces(
  file: TimetableFile,
  layout: Layout | null,
  stock: Stock | null,
): Fault[] {
  const place = placeIn(file);
  const stored = new Set<string>(file.storedPlaces.map(({ train }) => train));
  return [
    ...file.storedPlaces.flatMap((it) => [
      ...(stock === null ? [] : checkReference(stock.trainByName, it.train, 'train', place(it))),
      ...(layout === null ? [] : checkBlock(it, place(it), layout)),
    ]),
    ...checkTwice(file.storedPlaces, ({ train }) => train, place, 'train', 'store a train once'),
    ...checkTwice(
      file.storedPlaces,
      ({ block }) => block,
      place,
      'block',
      'store one train in a block; divide a long track into blocks, in a station with callOn',
    ),
    ...file.workings.flatMap(({ id, train }, index) =>
      stored.has(train)
        ? []
        : [
            fault(
              placeOf('workings', index, id),
              `${train} has work but no stored place`,
              'add to storedPlaces where it stands at the start',
            ),
          ],
    ),
  ];
}

/** Whether the places are long enough, and at the station where the train's work begins. */
export function checkStoredTrains(file: TimetableFile, layout: Layout, stock: Stock): Fault[] {
  const place = placeIn(file);
  const stored = new Map<string, StoredPlaceFile>(file.storedPlaces.map((it) => [it.train, it]));
  return [
    ...file.storedPlaces.flatMap((it) => checkRoom(it, place(it), layout, stock)),
    ...file.storedPlaces.flatMap((it, at) =>
      checkShared(it, file.storedPlaces.slice(0, at), place(it), layout),
    ),
    ...file.workings.flatMap(({ id, train, services }, index) => {
      const start = stored.get(train);
      return start === undefined
        ? []
        : checkStart(file, services[0], start, placeOf('workings', index, id), layout);
    }),
  ];
}

const placeIn =
  (file: TimetableFile) =>
  (stored: StoredPlaceFile): string =>
    placeOf('storedPlaces', file.storedPlaces.indexOf(stored), stored.train);

const blockOf = ({ elements, elementByName }: Layout, id: string): Element | null => {
  const element = elements[elementByName.get(id) ?? -1];
  return element?.kind === 'block' ? element : null;
};

const checkBlock = ({ block }: StoredPlaceFile, place: string, layout: Layout): Fault[] =>
  blockOf(layout, block) === null
    ? [fault(place, `there is no block ${block}`, 'name the block in which the train stands')]
    : [];

function checkRoom(stored: StoredPlaceFile, place: string, layout: Layout, stock: Stock): Fault[] {
  const block = blockOf(layout, stored.block);
  const train = stock.trains[stock.trainByName.get(stored.train) ?? -1];
  if (block === null || train === undefined) return [];
  const room = standingRoom(layout, [block.index], headingOf(block.index, stored.towards));
  return train.length > room
    ? [
        fault(
          place,
          `the train is ${train.length} mm long, but ${stored.block} holds ${room} mm clear of its stop mark and fouling points`,
          'store it in a longer block, or shorten the train',
        ),
      ]
    : [];
}

/** Two trains share a station's track only where the second may be called on: otherwise neither could ever be let in, or out. */
function checkShared(
  stored: StoredPlaceFile,
  earlier: readonly StoredPlaceFile[],
  place: string,
  { elementByName, dividedTracks, dividedTrackOf }: Layout,
): Fault[] {
  const trackOf = ({ block }: StoredPlaceFile): number =>
    dividedTrackOf[elementByName.get(block) ?? -1] ?? -1;
  const track = dividedTracks[trackOf(stored)];
  if (track === undefined || track.callOn) return [];
  const first = earlier.find((it) => it.block !== stored.block && trackOf(it) === trackOf(stored));
  return first === undefined
    ? []
    : [
        fault(
          place,
          `${first.train} is stored in track ${track.id} too, into which no second train is let`,
          'store one of them elsewhere, or set callOn for the track',
        ),
      ];
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

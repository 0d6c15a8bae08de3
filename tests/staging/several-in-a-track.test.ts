import {
  compileLayout,
  compileStock,
  compileWorld,
  validateLayout,
  validateTimetable,
  type TimetableFile,
} from '@blockbell/railway';
import { allocate, bookedYard } from '@blockbell/staging';
import { describe, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

const loop = exampleRailway('passing-loop');

/** The passing loop with its eastern end as a hidden yard of one dead-end track, which two trains fit into. */
const layout = {
  ...loop.layout,
  stations: loop.layout.stations.map((station) =>
    station.id === 'highmarsh'
      ? {
          ...station,
          kind: 'staging-yard' as const,
          tracks: station.tracks.map((track) => ({
            ...track,
            blocks: loop.layout.elements.flatMap(({ id }) =>
              id === 'L4' || id === 'E1' ? [id] : [],
            ),
          })),
        }
      : station,
  ),
};

/** Train T47 goes into the yard at 08:10 and train T3 at 08:19; they come out again when it says. */
function timetable(out47: string, out3: string): TimetableFile {
  const [in3, out] = loop.timetable.services as [
    TimetableFile['services'][number],
    TimetableFile['services'][number],
  ];
  const [lowmarsh, pennick, highmarsh] = in3.calls as [
    (typeof in3.calls)[number],
    (typeof in3.calls)[number],
    (typeof in3.calls)[number],
  ];
  const { arrive: _, ...leaves } = pennick;
  const back = (id: string, depart: string, arrive: string) => ({
    ...out,
    id: id as typeof out.id,
    calls: [
      { station: highmarsh.station, depart },
      { station: pennick.station, arrive },
    ],
  });
  return {
    ...loop.timetable,
    services: [
      { ...in3, calls: [lowmarsh, pennick, highmarsh] },
      back('S3-2', out3, '08:58'),
      {
        ...in3,
        id: 'S47-1' as typeof in3.id,
        calls: [
          { ...leaves, depart: '08:04' },
          { ...highmarsh, arrive: '08:10' },
        ],
      },
      back('S47-2', out47, '08:59'),
    ],
    workings: loop.timetable.workings.map((working) => ({
      ...working,
      services: working.services.slice(0, 2),
    })),
    storedPlaces: loop.timetable.storedPlaces.map((place) =>
      place.train === 'T47'
        ? {
            ...place,
            block: loop.layout.elements.find(({ id }) => id === 'P1')!.id,
            towards: 'b' as const,
          }
        : place,
    ),
  };
}

function allocated(out47: string, out3: string) {
  const file = timetable(out47, out3);
  expect(validateLayout(layout)).toEqual([]);
  expect(validateTimetable(file, compileLayout(layout), compileStock(loop.stock))).toEqual([]);
  const world = compileWorld(layout, loop.stock, file);
  const yard = bookedYard(
    world,
    layout.stations.findIndex(({ id }) => id === 'highmarsh'),
  );
  const { burials, unplaced } = allocate(yard);
  const name = (stay: number): string => world.stock.trains[yard.stays[stay]!.train]!.file.id;
  return {
    unplaced,
    tracks: yard.tracks,
    needs: yard.stays.map(({ berths }) =>
      berths.map(({ in: entry, out, needs }) => [entry, out, needs]),
    ),
    buried: burials.map(({ stay, by }) => `${name(stay)} by ${name(by)}`),
  };
}

describe('a dead-end track for two trains', () => {
  it('buries the first that came when it is to leave first', () => {
    const { buried, unplaced, tracks, needs } = allocated('08:30', '08:40');
    expect(tracks.map(({ room }) => room)).toEqual([2]);
    expect(needs).toEqual([[['a', 'a', 1]], [['a', 'a', 1]]]);
    expect({ buried, unplaced }).toEqual({ buried: ['T47 by T3'], unplaced: [] });
  });

  it('buries nobody when the last in is the first out', () => {
    expect(allocated('08:40', '08:30').buried).toEqual([]);
  });
});

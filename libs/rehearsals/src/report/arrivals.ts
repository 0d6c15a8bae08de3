import type { World } from '@blockbell/railway';
import type { BookedStop } from '../session/booked-stops.js';
import type { SessionResult } from '../session/session-result.js';
import type { Bin, ConnectionLine, OpenLine, PlaceLine, ServiceLine } from './report.js';
import { spreadOf, wilson } from './statistics.js';

const MINUTE = 60_000;

/** Every service at its last call, in the order of the timetable. */
export function serviceLines(
  { timetable, stock }: World,
  stops: readonly BookedStop[],
  results: readonly SessionResult[],
): ServiceLine[] {
  return timetable.workings.flatMap((working, train) =>
    (working?.services ?? []).flatMap((service): ServiceLine[] => {
      const stop = stops.findIndex((it) => it.service === service && it.isLast);
      if (stop < 0) return [];
      const { file } = timetable.services[service]!;
      const arrived = minutesLate(results, [stop]);
      return [
        {
          service: file.id,
          name: file.name,
          train: stock.trains[train]!.file.label,
          late: spreadOf(arrived),
          within3: within(arrived, 3, results.length),
          within5: within(arrived, 5, results.length),
          notRun: results.length - arrived.length,
        },
      ];
    }),
  );
}

/** Every service that names no train: how often it was run, and by whom. */
export const openLines = (
  { timetable, stock }: World,
  results: readonly SessionResult[],
): OpenLine[] =>
  timetable.openServices.map(({ file }, index) => {
    const by = results.flatMap(({ open }) => open[index] ?? []);
    const trains = [...new Set(by)]
      .map((train) => ({
        train: stock.trains[train]!.file.label,
        sessions: by.filter((it) => it === train).length,
      }))
      .sort((a, b) => b.sessions - a.sessions || (a.train < b.train ? -1 : 1));
    return { service: file.id, name: file.name, run: wilson(by.length, results.length), trains };
  });

/** Every station at which a train is booked to arrive and stop, in the order of the layout. */
export function placeLines(
  { layout, timetable }: World,
  stops: readonly BookedStop[],
  results: readonly SessionResult[],
): PlaceLine[] {
  return layout.stations.flatMap(({ file, index: station }): PlaceLine[] => {
    const there = stops.flatMap(({ service, call }, stop) =>
      timetable.services[service]!.calls[call]!.station === station ? [stop] : [],
    );
    if (there.length === 0) return [];
    const arrived = minutesLate(results, there);
    const { percent } = within(arrived, 3, there.length * results.length);
    return [{ station: file.id, name: file.name, late: spreadOf(arrived), within3: percent }];
  });
}

export function connectionLines(
  { layout, timetable }: World,
  results: readonly SessionResult[],
): ConnectionLine[] {
  return timetable.connections.map(({ from, to, station }, index) => {
    const known = results.map(({ connections }) => connections[index]!).filter((it) => it !== null);
    return {
      from: timetable.services[from]!.file.name,
      to: timetable.services[to]!.file.name,
      place: layout.stations[station]!.file.name,
      missed: wilson(known.filter((kept) => !kept).length, known.length),
    };
  });
}

/** Bounds of the histogram's bins, minutes. */
const BOUNDS = [-5, -3, -1, 0, 1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 30];

export function histogramOf(minutes: readonly number[]): Bin[] {
  const bounds = [null, ...BOUNDS, null];
  const counts = new Array<number>(bounds.length - 1).fill(0);
  for (const each of minutes) {
    const above = BOUNDS.findIndex((bound) => each < bound);
    counts[above < 0 ? BOUNDS.length : above]!++;
  }
  return counts.map((count, bin) => ({ from: bounds[bin]!, to: bounds[bin + 1]!, count }));
}

function minutesLate(results: readonly SessionResult[], stops: readonly number[]): number[] {
  return results.flatMap(({ late }) =>
    stops.flatMap((stop) => {
      const each = late[stop] ?? null;
      return each === null ? [] : [each / MINUTE];
    }),
  );
}

/** One that never came is not punctual. */
const within = (arrived: readonly number[], minutes: number, of: number): ServiceLine['within3'] =>
  wilson(arrived.filter((each) => each <= minutes).length, of);

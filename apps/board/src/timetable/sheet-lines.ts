import type { Layout, TimetableFile } from '@blockbell/railway';
import type { GraphPoint } from '../graph/graph-lines.js';
import { timeOf } from './shift-times.js';

/** A departure that can be moved. */
export interface Departure extends GraphPoint {
  readonly call: number;
  readonly station: string;
}

/** A service as it is drawn. */
export interface ServiceLine {
  readonly service: string;
  /** Index of the train that runs it; −1: no working has it. */
  readonly train: number;
  readonly points: readonly GraphPoint[];
  /** From its first call on. */
  readonly departures: readonly Departure[];
}

/** The services of a timetable in its order, whatever their times; what can't be read is left out. */
export function serviceLines(
  file: TimetableFile,
  layout: Layout,
  trainByName: ReadonlyMap<string, number>,
): readonly ServiceLine[] {
  const stations = new Map<string, { readonly name: string; readonly chainage: number }>(
    layout.stations.map(({ file: it }) => [it.id, it]),
  );
  const trainOf = new Map<string, number>(
    file.workings.flatMap(({ train, services }) =>
      services.map((id) => [id, trainByName.get(train) ?? -1] as const),
    ),
  );
  return file.services.map(({ id, calls }): ServiceLine => {
    const points: GraphPoint[] = [];
    const departures: Departure[] = [];
    calls.forEach((call, index) => {
      const { chainage = 0, name = call.station } = stations.get(call.station) ?? {};
      for (const what of ['arrive', 'depart'] as const) {
        const fast = timeOf(call[what]);
        if (fast === null) continue;
        points.push({ fast, chainage });
        if (what === 'depart' && call.stop !== 'pass')
          departures.push({ fast, chainage, call: index, station: name });
      }
    });
    return { service: id, train: trainOf.get(id) ?? -1, points, departures };
  });
}

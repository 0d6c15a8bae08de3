import type { WorkingId } from '../ids.js';
import type { Layout } from '../layout/layout.js';
import type { Stock } from '../stock/train.js';
import type { AddedWork } from './added-work.js';
import { compileServices } from './compile-timetable.js';
import type { Timetable, Working } from './timetable.js';

/** A timetable with what was added to it, compiled as its own services are. */
export function withAdded(
  booked: Timetable,
  added: AddedWork,
  layout: Layout,
  stock: Stock,
): Timetable {
  const services = added.services.map(({ file, train }) => ({ file, train: stock.trains[train]! }));
  const workings = [...booked.workings];
  for (const { train, services: order } of added.workings) {
    const { id } = stock.trains[train]!.file;
    const file: Working['file'] = workings[train]?.file ?? {
      id: `added-${id}` as WorkingId,
      train: id,
      services: [],
    };
    workings[train] = { file, train, services: order };
  }
  return {
    ...booked,
    services: [...booked.services, ...compileServices(services, booked.services.length, layout)],
    workings,
  };
}

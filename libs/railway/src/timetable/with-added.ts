import type { WorkingId } from '../ids.js';
import type { Layout } from '../layout/layout.js';
import type { Stock } from '../stock/train.js';
import type { AddedWork, CallElsewhere } from './added-work.js';
import { compileServices } from './compile-timetable.js';
import type { CallFile, ServiceFile } from './timetable-file.js';
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
  const all = [...booked.services, ...compileServices(services, booked.services.length, layout)];
  for (const { train, service } of added.elsewhere) {
    const calls = added.elsewhere.filter((it) => it.service === service);
    const file = withCallsElsewhere(
      (booked.services[service] ?? all[service]!).file,
      calls,
      layout,
    );
    [all[service]] = compileServices([{ file, train: stock.trains[train]! }], service, layout) as [
      (typeof all)[number],
    ];
  }
  return { ...booked, services: all, workings };
}

/** Where it goes instead it may take any track. */
const withCallsElsewhere = (
  file: ServiceFile,
  elsewhere: readonly CallElsewhere[],
  { stations }: Layout,
): ServiceFile => ({
  ...file,
  calls: file.calls.map((call, at): CallFile => {
    const other = elsewhere.find((it) => it.call === at);
    if (other === undefined) return call;
    const { tracks: _, ...rest } = call;
    return { ...rest, station: stations[other.station]!.file.id };
  }),
});

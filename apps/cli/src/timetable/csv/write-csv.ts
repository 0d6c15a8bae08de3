import type { TimetableFile } from '@blockbell/railway';
import { stringify } from 'csv-stringify/sync';
import { COLUMNS, TRACKS, type Row } from './columns.js';

/** The services of a timetable as CSV, for spreadsheets: one row a call, in their order. */
export function writeCsv({ services, workings }: TimetableFile): string {
  const workingOf = new Map<string, string>(
    workings.flatMap((working) => working.services.map((id) => [id, working.id] as const)),
  );
  const rows = services.flatMap(({ id, name, calls }) =>
    calls.map((call): Row => ({
      service: id,
      name,
      working: workingOf.get(id) ?? '',
      station: call.station,
      arrive: call.arrive ?? '',
      depart: call.depart ?? '',
      stop: call.stop ?? '',
      tracks: call.tracks?.join(TRACKS) ?? '',
      dwell_fast: call.dwell === undefined ? '' : String(call.dwell.fast),
      dwell_real: call.dwell === undefined ? '' : String(call.dwell.real),
    })),
  );
  return stringify(rows, { header: true, columns: [...COLUMNS] });
}

import type { CallFile, Fault, ServiceFile, TimetableFile } from '@blockbell/railway';
import { withServices } from '@blockbell/timetabling';
import { COLUMNS, TRACKS, type Column, type Row } from './columns.js';
import { csvLines, faultAt, type CsvLine } from './csv-lines.js';

export type ReadCsv =
  | { readonly ok: true; readonly timetable: TimetableFile }
  /** Each with its line in the file. */
  | { readonly ok: false; readonly faults: readonly Fault[] };

type Line = CsvLine<Column>;

/**
 * The timetable with the services of a CSV in place of its own. Workings keep their trains and run the services that name them,
 * in order of departure; one that no service names is left out, and so are connections of services that are gone.
 */
export function readCsv(text: string, timetable: TimetableFile): ReadCsv {
  const lines = csvLines(text, COLUMNS);
  if (!Array.isArray(lines)) return { ok: false, faults: [lines] };
  const faults = lines.flatMap((line) => faultsOf(line, timetable));
  const services = new Map<string, ServiceFile & { calls: CallFile[] }>();
  const workingOf = new Map<string, string>();
  let last = '';
  for (const { line, row } of lines) {
    const known = services.get(row.service);
    if (known !== undefined && row.service !== last)
      faults.push(
        faultAt(line, `service ${row.service} goes on here after another`, 'put its rows together'),
      );
    last = row.service;
    if (known !== undefined) known.calls.push(callOf(row));
    else {
      const id = row.service as ServiceFile['id'];
      services.set(row.service, { id, name: row.name, calls: [callOf(row)] });
      workingOf.set(row.service, row.working);
    }
  }
  if (faults.length > 0) return { ok: false, faults };
  const all = [...services.values()];
  return {
    ok: true,
    timetable: withServices(timetable, all, (working) =>
      all.map(({ id }) => id).filter((id) => workingOf.get(id) === working.id),
    ),
  };
}

const TIME = /^\d{2}:[0-5]\d(:[0-5]\d)?$/;
const NUMBER = /^\d+(\.\d+)?$/;

function faultsOf({ line, row }: Line, { workings }: TimetableFile): Fault[] {
  const needed = (['service', 'station', 'working'] as const)
    .filter((column) => row[column] === '')
    .map((column) => faultAt(line, `${column} is empty`, `name the ${column}`));
  const wrong = (column: Column, pattern: RegExp, mend: string): Fault[] =>
    row[column] === '' || pattern.test(row[column])
      ? []
      : [faultAt(line, `${column} is “${row[column]}”`, mend)];
  return [
    ...needed,
    ...wrong('arrive', TIME, 'write HH:MM or HH:MM:SS with two digits for the hours, or nothing'),
    ...wrong('depart', TIME, 'write HH:MM or HH:MM:SS with two digits for the hours, or nothing'),
    ...wrong('stop', /^(call|pass)$/, 'write call or pass, or nothing for a call'),
    ...wrong('dwell_fast', NUMBER, 'write seconds of the fast clock'),
    ...wrong('dwell_real', NUMBER, 'write real seconds'),
    ...((row.dwell_fast === '') === (row.dwell_real === '')
      ? []
      : [faultAt(line, 'only one of the two dwells is given', 'give both, or neither')]),
    ...(row.working === '' || workings.some(({ id }) => id === row.working)
      ? []
      : [faultAt(line, `there is no working ${row.working}`, 'name a working of the timetable')]),
  ];
}

function callOf(row: Row): CallFile {
  const { arrive, depart, stop, tracks } = row;
  return {
    station: row.station as CallFile['station'],
    ...(arrive === '' ? {} : { arrive }),
    ...(depart === '' ? {} : { depart }),
    ...(stop === 'call' || stop === 'pass' ? { stop } : {}),
    ...(tracks === '' ? {} : { tracks: tracks.split(TRACKS).filter((track) => track !== '') }),
    ...(row.dwell_fast === ''
      ? {}
      : { dwell: { fast: Number(row.dwell_fast), real: Number(row.dwell_real) } }),
  };
}

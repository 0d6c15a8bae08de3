import { EXIT, type ExitCode } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { readText, writeText } from '../text-files.js';
import { readCsv } from './csv/read-csv.js';
import { writeCsv } from './csv/write-csv.js';
import { readSoundTimetable, readTimetableFiles, type NamedFiles } from './read-files.js';

export interface ExportOptions extends NamedFiles {
  readonly out?: string;
}

/** Prints the services of a timetable as CSV, or writes them. */
export function exportCsv({ out, ...named }: ExportOptions, terminal: Terminal): ExitCode {
  const read = readSoundTimetable(named);
  if (!read.ok) {
    for (const fault of read.faults) terminal.err(faultText(fault));
    return EXIT.fault;
  }
  const text = writeCsv(read.files.timetable);
  if (out === undefined) terminal.out(text.trimEnd());
  else writeText(out, text);
  return EXIT.ok;
}

export interface ImportOptions extends NamedFiles {
  readonly csv: string;
  readonly out?: string;
}

/** Puts the services of a CSV in place of a timetable's; prints the timetable, or writes it. */
export function importCsv({ csv, out, ...named }: ImportOptions, terminal: Terminal): ExitCode {
  const files = readTimetableFiles(named);
  const read = files.ok ? readCsv(readText(csv), files.files.timetable) : files;
  if (!read.ok) {
    for (const fault of read.faults) terminal.err(faultText({ file: csv, ...fault }));
    return EXIT.fault;
  }
  const text = `${JSON.stringify(read.timetable, null, 2)}\n`;
  if (out === undefined) terminal.out(text.trimEnd());
  else writeText(out, text);
  terminal.err(`${counted(read.timetable.services.length, 'service')} read from ${csv}.`);
  return EXIT.ok;
}

import type { Fault } from '@blockbell/railway';
import { EXIT, type ExitCode } from '../exit-code.js';
import { counted } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { readText, writeText } from '../text-files.js';
import { readCsv } from './csv/read-csv.js';
import { writeCsv } from './csv/write-csv.js';
import { giveTimetable, tellFaults } from './give-timetable.js';
import { readSoundTimetable, readTimetableFiles, type NamedFiles } from './read-files.js';

export interface ExportOptions extends NamedFiles {
  readonly out?: string;
}

/** Prints the services of a timetable as CSV, or writes them. */
export function exportCsv({ out, ...named }: ExportOptions, terminal: Terminal): ExitCode {
  const read = readSoundTimetable(named);
  if (!read.ok) {
    tellFaults(terminal, read.faults);
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
  const refuse = (faults: readonly Fault[], file?: string): ExitCode => {
    tellFaults(terminal, faults, file);
    return EXIT.fault;
  };
  const files = readTimetableFiles(named);
  if (!files.ok) return refuse(files.faults);
  const read = readCsv(readText(csv), files.files.timetable);
  if (!read.ok) return refuse(read.faults, csv);
  const faults = giveTimetable(files.files, read.timetable, csv, out, terminal);
  if (faults.length > 0) return refuse(faults);
  terminal.err(`${counted(read.timetable.services.length, 'service')} read from ${csv}.`);
  return EXIT.ok;
}

import { readableJson } from '@blockbell/examples';
import type { Fault, TimetableFile } from '@blockbell/railway';
import { TimetableChecker } from '@blockbell/timetabling';
import { faultText } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { writeText } from '../text-files.js';
import type { TimetableFiles } from './read-files.js';

/**
 * Prints a timetable that was made from another, or writes it where it is told to; one with a fault of form is neither printed nor
 * written.
 * @param source the file its services come from, under whose name their faults are told
 * @returns faults of form
 */
export function giveTimetable(
  { layout, stock }: TimetableFiles,
  made: TimetableFile,
  source: string,
  out: string | undefined,
  terminal: Terminal,
): readonly Fault[] {
  const faults = new TimetableChecker(layout, stock).faultsOf(made);
  if (faults.length > 0)
    return faults.map((fault) =>
      fault.place.startsWith('services') ? { ...fault, file: source } : fault,
    );
  const text = readableJson(made);
  if (out === undefined) terminal.out(text.trimEnd());
  else writeText(out, text);
  return [];
}

/** Tells faults, each under the name of the file it is in. */
export function tellFaults(terminal: Terminal, faults: readonly Fault[], file?: string): void {
  for (const fault of faults)
    terminal.err(faultText(file === undefined ? fault : { ...fault, file }));
}

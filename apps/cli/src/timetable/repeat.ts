import { readPattern } from '@blockbell/contract';
import type { Fault } from '@blockbell/railway';
import { repeatServices } from '@blockbell/timetabling';
import { EXIT, type ExitCode } from '../exit-code.js';
import { counted } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { readText } from '../text-files.js';
import { giveTimetable, tellFaults } from './give-timetable.js';
import { readSoundTimetable, type NamedFiles } from './read-files.js';

export interface RepeatOptions extends NamedFiles {
  readonly pattern: string;
  readonly out?: string;
}

/** Expands regular-interval patterns into services; prints the timetable, or writes it. */
export function repeat({ pattern, out, ...named }: RepeatOptions, terminal: Terminal): ExitCode {
  const refuse = (faults: readonly Fault[], file?: string): ExitCode => {
    tellFaults(terminal, faults, file);
    return EXIT.fault;
  };
  const read = readSoundTimetable(named);
  if (!read.ok) return refuse(read.faults);
  const patterns = readPattern(readText(pattern));
  if (!patterns.ok) return refuse(patterns.faults, pattern);
  const repeated = repeatServices(read.files.timetable, patterns.file.patterns);
  if (!repeated.ok) return refuse(repeated.faults, pattern);
  const faults = giveTimetable(read.files, repeated.timetable, pattern, out, terminal);
  if (faults.length > 0) return refuse(faults);
  terminal.err(
    `${counted(repeated.timetable.services.length, 'service')}${out === undefined ? '' : ` written to ${out}`}.`,
  );
  return EXIT.ok;
}

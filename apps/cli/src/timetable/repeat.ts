import { readPattern } from '@blockbell/contract';
import type { Fault } from '@blockbell/railway';
import { repeatServices } from '@blockbell/timetabling';
import { EXIT, type ExitCode } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { readText, writeText } from '../text-files.js';
import { readSoundTimetable, type NamedFiles } from './read-files.js';

export interface RepeatOptions extends NamedFiles {
  readonly pattern: string;
  readonly out?: string;
}

/** Expands regular-interval patterns into services; prints the timetable, or writes it. */
export function repeat({ pattern, out, ...named }: RepeatOptions, terminal: Terminal): ExitCode {
  const refuse = (faults: readonly Fault[]): ExitCode => {
    for (const fault of faults) terminal.err(faultText(fault));
    return EXIT.fault;
  };
  const read = readSoundTimetable(named);
  if (!read.ok) return refuse(read.faults);
  const patterns = readPattern(readText(pattern));
  const inPattern = (fault: Fault): Fault => ({ ...fault, file: pattern });
  if (!patterns.ok) return refuse(patterns.faults.map(inPattern));
  const repeated = repeatServices(read.files.timetable, patterns.file.patterns);
  if (!repeated.ok) return refuse(repeated.faults.map(inPattern));
  const text = `${JSON.stringify(repeated.timetable, null, 2)}\n`;
  if (out === undefined) terminal.out(text.trimEnd());
  else writeText(out, text);
  terminal.err(
    `${counted(repeated.timetable.services.length, 'service')}${out === undefined ? '' : ` written to ${out}`}.`,
  );
  return EXIT.ok;
}

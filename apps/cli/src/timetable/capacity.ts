import { lineCapacity, TimetableChecker } from '@blockbell/timetabling';
import { EXIT, type ExitCode } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { readSoundTimetable, type NamedFiles } from './read-files.js';

export interface CapacityOptions extends NamedFiles {
  readonly json?: boolean;
}

/** How much of each stretch of line its trains take up, by compression. */
export function capacity(
  { json = false, ...named }: CapacityOptions,
  terminal: Terminal,
): ExitCode {
  const read = readSoundTimetable(named);
  if (!read.ok) {
    for (const fault of read.faults) terminal.err(faultText(fault));
    return EXIT.fault;
  }
  const { layout, stock, timetable } = read.files;
  const stretches = lineCapacity(new TimetableChecker(layout, stock).examine(timetable));
  if (json) terminal.out(JSON.stringify({ stretches }, null, 2));
  else {
    const minutes = (ms: number): string => (ms / 60_000).toFixed(1);
    const wide = Math.max(...stretches.map(({ place }) => place.length));
    for (const { place, trains, taken, period, share } of stretches)
      terminal.out(
        `${place.padEnd(wide)}  ${(share / 10).toFixed(1).padStart(5)} %  ${minutes(taken)} of ` +
          `${minutes(period)} min, ${counted(trains, 'train')}`,
      );
  }
  return EXIT.ok;
}

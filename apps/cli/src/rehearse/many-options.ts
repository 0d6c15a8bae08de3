import { availableParallelism } from 'node:os';
import { readDisturbances, type DisturbancesFile } from '@blockbell/contract';
import { NO_DISTURBANCES, USUAL_DISTURBANCES, type Dispatching } from '@blockbell/rehearsals';
import { Option, type Command } from 'commander';
import { UsageError } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import { readText } from '../text-files.js';
import { wholeNumber } from '../whole-number.js';

/** What many rehearsals are asked for with, beside what one is. */
export interface ManyOptions {
  readonly sessions?: number;
  readonly workers?: number;
  readonly disturbances?: string;
  readonly dispatching?: Dispatching;
  readonly against?: string;
  readonly againstDispatching?: Dispatching;
  readonly out?: string;
}

const WAYS: readonly Dispatching[] = ['plan', 'booked', 'first-come', 'priority'];

export const withManyOptions = (command: Command): Command =>
  command
    .option('--sessions <number>', 'rehearse so many sessions, in the background', wholeNumber)
    .option(
      '--workers <number>',
      `with --sessions: threads at work (${availableParallelism()})`,
      wholeNumber,
    )
    .option(
      '--disturbances <file>',
      'with --sessions: what goes wrong; “usual” or “none” in place of a file',
    )
    .addOption(
      new Option(
        '--dispatching <way>',
        'with --sessions: with plans, or who is asked first',
      ).choices(WAYS),
    )
    .option('--against <timetable>', 'with --sessions: another timetable, same seeds, to compare')
    .addOption(
      new Option(
        '--against-dispatching <way>',
        'with --sessions: another way of dispatching, same seeds, to compare',
      ).choices(WAYS),
    )
    .option('--out <folder>', 'with --sessions: write JSON, CSV, pictures and a page there');

/** The disturbances named; the usual ones where none are. */
export function disturbancesOf({ disturbances }: ManyOptions): DisturbancesFile {
  if (disturbances === undefined || disturbances === 'usual') return USUAL_DISTURBANCES;
  if (disturbances === 'none') return NO_DISTURBANCES;
  const read = readDisturbances(readText(disturbances));
  if (read.ok) return read.file;
  throw new UsageError(
    read.faults.map((it) => faultText({ ...it, file: disturbances })).join('\n'),
  );
}

/** Refuses what says nothing of a single session. */
export function refuseManyOptions(options: ManyOptions): void {
  const given = [
    options.workers === undefined ? '' : '--workers',
    options.disturbances === undefined ? '' : '--disturbances',
    options.dispatching === undefined ? '' : '--dispatching',
    options.against === undefined ? '' : '--against',
    options.againstDispatching === undefined ? '' : '--against-dispatching',
    options.out === undefined ? '' : '--out',
  ].filter((name) => name !== '');
  if (given.length > 0) {
    throw new UsageError(`${given.join(', ')}: name the number of sessions with --sessions too`);
  }
}

import { availableParallelism } from 'node:os';
import { readDisturbances, readStagingRules, type DisturbancesFile } from '@blockbell/contract';
import type { Layout, StagingRulesFile, Stock } from '@blockbell/railway';
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
  readonly rules?: string;
  readonly againstRules?: string;
  readonly return?: boolean;
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
    .option('--rules <file>', 'with --sessions: staging rules by which the yards are worked')
    .option(
      '--against-rules <file>',
      'with --sessions: other staging rules, same seeds, to compare',
    )
    .option(
      '--return',
      'with --sessions: the trains return to where they began before each session ends',
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

/** The staging rules of a file; undefined where none is named. */
export function rulesIn(
  path: string | undefined,
  { layout, stock }: { readonly layout: Layout; readonly stock: Stock },
): StagingRulesFile | undefined {
  if (path === undefined) return undefined;
  const read = readStagingRules(readText(path), layout, stock);
  if (read.ok) return read.file;
  throw new UsageError(read.faults.map((it) => faultText({ ...it, file: path })).join('\n'));
}

/** Refuses what says nothing of a single session. */
export function refuseManyOptions(options: ManyOptions): void {
  const given = [
    options.workers === undefined ? '' : '--workers',
    options.disturbances === undefined ? '' : '--disturbances',
    options.dispatching === undefined ? '' : '--dispatching',
    options.against === undefined ? '' : '--against',
    options.againstDispatching === undefined ? '' : '--against-dispatching',
    options.rules === undefined ? '' : '--rules',
    options.againstRules === undefined ? '' : '--against-rules',
    options.return === undefined ? '' : '--return',
    options.out === undefined ? '' : '--out',
  ].filter((name) => name !== '');
  if (given.length > 0) {
    throw new UsageError(`${given.join(', ')}: name the number of sessions with --sessions too`);
  }
}

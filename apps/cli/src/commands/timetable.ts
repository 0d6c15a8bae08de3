import { EXAMPLE_NAMES } from '@blockbell/examples';
import { Option, type Command } from 'commander';
import type { ExitCode } from '../exit-code.js';
import type { AddCommand } from '../run-cli.js';
import { capacity, type CapacityOptions } from '../timetable/capacity.js';
import { check, type CheckOptions } from '../timetable/check.js';
import {
  exportCsv,
  importCsv,
  type ExportOptions,
  type ImportOptions,
} from '../timetable/exchange.js';
import { takeFeed, type FeedOptions } from '../timetable/feed.js';
import { mend, type MendOptions } from '../timetable/mend.js';
import type { NamedFiles } from '../timetable/read-files.js';
import { wholeNumber } from '../whole-number.js';
import { repeat, type RepeatOptions } from '../timetable/repeat.js';

/** `blockbell timetable …`: work on timetables. */
export const addTimetable: AddCommand = (program, terminal, done) => {
  const timetable = program.command('timetable').description('Check, mend and extend timetables.');
  const add = (name: string, description: string): Command =>
    timetable
      .command(name)
      .description(description)
      .argument('[file...]', 'layout, stock and timetable; the demo when none is named')
      .addOption(
        new Option('--example <name>', 'an example in place of files').choices(EXAMPLE_NAMES),
      );
  const running =
    <T extends NamedFiles>(run: (options: T, ...rest: [typeof terminal]) => ExitCode) =>
    (paths: readonly string[], options: Omit<T, 'paths'>): void =>
      done(run({ ...options, paths } as T, terminal));

  add('check', 'Find what trains can’t keep in a timetable, with what would mend it.')
    .option('--json', 'print the findings as JSON')
    .action(running<CheckOptions>(check));
  add('mend', 'Move times as little as can be found, so that a timetable can be kept.')
    .option(
      '--earlier <minutes>',
      'how much earlier departures may be; 0 when nothing is said',
      wholeNumber,
    )
    .option('--later <minutes>', 'how much later; 30 when nothing is said', wholeNumber)
    .option('--out <file>', 'write the mended timetable there')
    .option('--json', 'print the changes as JSON')
    .action(running<MendOptions>(mend));
  add('repeat', 'Run services again and again at a regular interval.')
    .requiredOption('--pattern <file>', 'which services, how often and by which workings')
    .option('--out <file>', 'write the timetable there, in place of printing it')
    .action(running<RepeatOptions>(repeat));
  add('capacity', 'Say how much of each stretch of line its trains take up, by compression.')
    .option('--json', 'print the figures as JSON')
    .action(running<CapacityOptions>(capacity));
  add('export', 'Write the services of a timetable as CSV, for spreadsheets.')
    .option('--out <file>', 'write them there, in place of printing them')
    .action(running<ExportOptions>(exportCsv));
  add('import', 'Put the services of a CSV in place of a timetable’s.')
    .requiredOption('--csv <file>', 'services, one row for each call')
    .option('--out <file>', 'write the timetable there, in place of printing it')
    .action(running<ImportOptions>(importCsv));
  add('import-feed', 'Take a day of a public-transport feed (GTFS) as a timetable’s services.')
    .requiredOption('--feed <file>', 'the feed, a zip archive')
    .requiredOption('--map <file>', 'the day, which stops are which stations, who runs what')
    .option('--out <file>', 'write the timetable there, in place of printing it')
    .action(running<FeedOptions>(takeFeed));
};

import { readStagingRules } from '@blockbell/contract';
import { readableJson } from '@blockbell/examples';
import { compileWorld, type TimetableFile, type World } from '@blockbell/railway';
import { allocate, bookedYard, tryRules, withTracks } from '@blockbell/staging';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles, withFileOptions, type FileOptions } from '../session-files.js';
import { yardText, type AllocatedYard } from '../staging/staging-text.js';
import { sideBySide, sideText } from '../staging/side-by-side.js';
import { isWithoutHarm, trialText, triedAsJson, type TriedYard } from '../staging/trial-text.js';
import type { Terminal } from '../terminal.js';
import { readText, writeText } from '../text-files.js';

interface StagingOptions extends FileOptions {
  readonly out?: string;
  readonly rules?: string;
  readonly againstRules?: string;
  readonly json?: boolean;
}

/** `blockbell staging`: who stands in which track of the staging yards, over a whole timetable. */
export const addStaging: AddCommand = (program, terminal, done) => {
  withFileOptions(program.command('staging'))
    .description('Give every stay in a staging yard a track, so that nobody is in another’s way.')
    .option('--out <file>', 'write the timetable with these tracks')
    .option('--rules <file>', 'check these staging rules, say what they mean, and try them')
    .option('--against-rules <file>', 'try these rules as well, and print both side by side')
    .option('--json', 'print the allocation, or what the rules do, as JSON')
    .action((options: StagingOptions) => done(staging(options, terminal)));
};

function staging(options: StagingOptions, terminal: Terminal): ExitCode {
  const loaded = loadFiles(options);
  if (!loaded.ok) {
    for (const fault of loaded.faults) terminal.err(faultText(fault));
    return EXIT.fault;
  }
  const { layout, stock, timetable } = loaded.files;
  const world = compileWorld(layout, stock, timetable);
  if (options.rules !== undefined) return tryFiles(world, options.rules, options, terminal);
  if (options.againstRules !== undefined)
    throw new UsageError('--against-rules goes with --rules: name the first rules too');
  const yards = world.layout.stations.flatMap(({ file, index }): AllocatedYard[] => {
    if (file.kind !== 'staging-yard') return [];
    const yard = bookedYard(world, index);
    return [{ yard, allocation: allocate(yard) }];
  });
  if (yards.length === 0) throw new UsageError(`${layout.name} has no staging yard`);
  if (options.out !== undefined)
    writeText(options.out, readableJson(booked(timetable, world, yards)));
  terminal.out(
    options.json === true
      ? JSON.stringify(
          yards.map((each) => asJson(world, each)),
          null,
          2,
        )
      : yards.map((each) => yardText(world, each)).join('\n\n'),
  );
  const isGood = yards.every(
    ({ allocation }) => allocation.unplaced.length === 0 && allocation.burials.length === 0,
  );
  return isGood ? EXIT.ok : EXIT.fault;
}

/** Checks one file of rules or two, then tries each of their yards. */
function tryFiles(
  world: World,
  path: string,
  { out, json, againstRules }: StagingOptions,
  terminal: Terminal,
): ExitCode {
  if (out !== undefined)
    throw new UsageError('rules choose as trains come: --out goes without them');
  const tried = triedFile(world, path, terminal);
  const against = againstRules === undefined ? [] : triedFile(world, againstRules, terminal);
  if (tried === null || against === null) return EXIT.fault;
  const text = [...tried, ...against].map((each) => trialText(world, each)).join('\n\n');
  const [first, second] = [tried, against].map((each) => each.map((it) => triedAsJson(world, it)));
  if (json === true) {
    const both = { rules: first, against: second, sideBySide: sideBySide(tried, against) };
    terminal.out(JSON.stringify(againstRules === undefined ? first : both, null, 2));
  } else
    terminal.out(
      againstRules === undefined ? text : `${text}\n\n${sideText(world, tried, against)}`,
    );
  return [...tried, ...against].every(isWithoutHarm) ? EXIT.ok : EXIT.fault;
}

/** Null: the file has faults, which were told. */
function triedFile(world: World, path: string, terminal: Terminal): TriedYard[] | null {
  const read = readStagingRules(readText(path), world.layout, world.stock);
  if (!read.ok) {
    for (const fault of read.faults) terminal.err(faultText({ ...fault, file: path }));
    return null;
  }
  return read.file.yards.map((rules): TriedYard => {
    const station = world.layout.stations.findIndex(({ file }) => file.id === rules.yard);
    const yard = bookedYard(world, station);
    return { yard, rules, name: read.file.name, trial: tryRules(world, yard, rules) };
  });
}

const booked = (
  file: TimetableFile,
  world: World,
  yards: readonly AllocatedYard[],
): TimetableFile =>
  yards.reduce((so, { yard, allocation }) => withTracks(so, world, yard, allocation), file);

function asJson(world: World, { yard, allocation }: AllocatedYard): unknown {
  return {
    yard: world.layout.stations[yard.station]!.file.id,
    stays: yard.stays.map(({ train, booked: { arrive, depart }, berths }, stay) => ({
      train: world.stock.trains[train]!.file.id,
      arrive,
      depart,
      track: yard.tracks[berths[allocation.berths[stay] ?? -1]?.track ?? -1]?.id ?? null,
    })),
    inTheWay: allocation.burials,
    proven: allocation.proven,
  };
}

import { readableJson } from '@blockbell/examples';
import { compileWorld, type TimetableFile, type World } from '@blockbell/railway';
import { allocate, bookedYard, withTracks } from '@blockbell/staging';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles, withFileOptions, type FileOptions } from '../session-files.js';
import { yardText, type AllocatedYard } from '../staging/staging-text.js';
import type { Terminal } from '../terminal.js';
import { writeText } from '../text-files.js';

interface StagingOptions extends FileOptions {
  readonly out?: string;
  readonly json?: boolean;
}

/** `blockbell staging`: who stands in which track of the staging yards, over a whole timetable. */
export const addStaging: AddCommand = (program, terminal, done) => {
  withFileOptions(program.command('staging'))
    .description('Give every stay in a staging yard a track, so that nobody is in another’s way.')
    .option('--out <file>', 'write the timetable with these tracks')
    .option('--json', 'print the allocation as JSON')
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

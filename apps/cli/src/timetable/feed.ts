import { readFeedMap } from '@blockbell/contract';
import type { Fault } from '@blockbell/railway';
import { EXIT, type ExitCode } from '../exit-code.js';
import { counted } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { readBytes, readText } from '../text-files.js';
import { giveTimetable, tellFaults } from './give-timetable.js';
import { importFeed } from './gtfs/import-feed.js';
import { readFeed } from './gtfs/read-feed.js';
import { readTimetableFiles, type NamedFiles } from './read-files.js';

export interface FeedOptions extends NamedFiles {
  readonly feed: string;
  readonly map: string;
  readonly out?: string;
}

/** Puts a day of a public-transport feed in place of a timetable's services; prints the timetable, or writes it. */
export function takeFeed({ feed, map, out, ...named }: FeedOptions, terminal: Terminal): ExitCode {
  const refuse = (faults: readonly Fault[], file?: string): ExitCode => {
    tellFaults(terminal, faults, file);
    return EXIT.fault;
  };
  const files = readTimetableFiles(named);
  if (!files.ok) return refuse(files.faults);
  const mapping = readFeedMap(readText(map));
  if (!mapping.ok) return refuse(mapping.faults, map);
  const read = readFeed(readBytes(feed));
  if (!read.ok) return refuse(read.faults, feed);
  const imported = importFeed(read.feed, mapping.map, files.files.timetable);
  if (!imported.ok) {
    tellFaults(terminal, imported.inMap, map);
    return refuse(imported.faults, feed);
  }
  const source = `${feed} with ${map}`;
  const faults = giveTimetable(files.files, imported.timetable, source, out, terminal);
  if (faults.length > 0) return refuse(faults);
  terminal.err(
    `${counted(imported.timetable.services.length, 'service')} taken, ` +
      `${counted(imported.leftOut, 'trip')} of the day left out: no mapped block, or fewer than two mapped stops.`,
  );
  return EXIT.ok;
}

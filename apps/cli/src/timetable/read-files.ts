import { checkFiles, readFile, type AnyFile, type NamedText } from '@blockbell/contract';
import type { ExampleName } from '@blockbell/examples';
import type { Fault, LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { TimetableChecker } from '@blockbell/timetabling';
import { UsageError } from '../exit-code.js';
import { exampleTexts } from '../session-files.js';
import { readText } from '../text-files.js';

/** A sound layout and stock, and a timetable that is still to be checked. */
export interface TimetableFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

export type ReadTimetableFiles =
  | { readonly ok: true; readonly files: TimetableFiles }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** How the files are named on the command line: three paths in any order, or an example; the demo when nothing is. */
export interface NamedFiles {
  readonly paths: readonly string[];
  readonly example?: ExampleName;
}

/** The same, refused where the timetable has a fault of form, with which nothing can be done. */
export function readSoundTimetable(named: NamedFiles): ReadTimetableFiles {
  const read = readTimetableFiles(named);
  if (!read.ok) return read;
  const { layout, stock, timetable } = read.files;
  const faults = new TimetableChecker(layout, stock).faultsOf(timetable);
  return faults.length > 0 ? { ok: false, faults } : read;
}

/** Reads the files; whether the timetable can be kept, or even read, is still to be checked. */
export function readTimetableFiles({ paths, example }: NamedFiles): ReadTimetableFiles {
  if (example !== undefined && paths.length > 0)
    throw new UsageError('name an example or files, not both');
  if (paths.length !== 0 && paths.length !== 3)
    throw new UsageError(
      'name a layout, a stock and a timetable file, or none of them for the demo',
    );
  const texts =
    paths.length === 0
      ? exampleTexts(example)
      : paths.map((path) => ({ name: path, text: readText(path) }));
  const read = texts.map(({ name, text }) => ({ name, text, outcome: readFile(text) }));
  const unread = read.flatMap(({ name, outcome }) =>
    outcome.ok ? [] : outcome.faults.map((fault): Fault => ({ ...fault, file: name })),
  );
  if (unread.length > 0) return { ok: false, faults: unread };
  const find = <K extends AnyFile['kind']>(
    kind: K,
  ): { readonly file: Extract<AnyFile, { kind: K }>; readonly text: NamedText } => {
    for (const { name, text, outcome } of read)
      if (outcome.ok && outcome.file.kind === kind)
        return { file: outcome.file as Extract<AnyFile, { kind: K }>, text: { name, text } };
    throw new UsageError('name one layout, one stock and one timetable file');
  };
  const layout = find('blockbell-layout');
  const stock = find('blockbell-stock');
  const timetable = find('blockbell-timetable');
  const { faults } = checkFiles([layout.text, stock.text]);
  return faults.length > 0
    ? { ok: false, faults }
    : {
        ok: true,
        files: { layout: layout.file, stock: stock.file, timetable: timetable.file },
      };
}

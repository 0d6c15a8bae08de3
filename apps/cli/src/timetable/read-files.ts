import { checkFiles, readFile, type AnyFile, type NamedText } from '@blockbell/contract';
import type { ExampleName } from '@blockbell/examples';
import type { Fault, LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
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

/** Reads a layout, stock and timetable in any order, or those of an example; the demo's when nothing is named. */
export function readTimetableFiles(
  paths: readonly string[],
  example: ExampleName | undefined,
): ReadTimetableFiles {
  if (example !== undefined && paths.length > 0)
    throw new UsageError('name an example or files, not both');
  if (paths.length !== 0 && paths.length !== 3)
    throw new UsageError('name a layout, stock and a timetable file, or none of them for the demo');
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

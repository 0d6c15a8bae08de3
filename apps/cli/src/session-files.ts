import { checkFiles, readFile, type CheckedFiles, type NamedText } from '@blockbell/contract';
import { EXAMPLE_NAMES, exampleFiles, type ExampleName } from '@blockbell/examples';
import type { Fault, LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { Option, type Command } from 'commander';
import { UsageError } from './exit-code.js';
import { readText } from './text-files.js';

/** The files of an example; the demo's for whoever names none. */
export function exampleTexts(example: ExampleName = 'demo'): NamedText[] {
  const { layout, stock, timetable } = exampleFiles(example);
  return [
    { name: `${example} layout`, text: layout },
    { name: `${example} stock`, text: stock },
    { name: `${example} timetable`, text: timetable },
  ];
}

/** Reads and checks the named files together; the demo's when none is named. */
export function checkedFiles(paths: readonly string[]): CheckedFiles {
  const texts = paths.map((path) => ({ name: path, text: readText(path) }));
  return checkFiles(texts.length > 0 ? texts : exampleTexts());
}

/** The three files a session runs on, sound and compiled. */
export interface SessionFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly compiled: Required<Pick<CheckedFiles, 'layout' | 'stock' | 'timetable'>>;
}

export type LoadedFiles =
  | { readonly ok: true; readonly files: SessionFiles }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** How a command names the files of its session. */
export interface FileOptions {
  readonly example?: ExampleName;
  readonly layout?: string;
  readonly stock?: string;
  readonly timetable?: string;
}

export const withFileOptions = (command: Command): Command =>
  command
    .addOption(
      new Option('--example <name>', 'an example in place of files').choices(EXAMPLE_NAMES),
    )
    .option('--layout <file>', 'layout, with stock and timetable; the demo when none is named')
    .option('--stock <file>', 'rolling stock')
    .option('--timetable <file>', 'timetable');

/** Loads the three files or the example named, or the demo. */
export function loadFiles({ example, layout, stock, timetable }: FileOptions): LoadedFiles {
  const paths = [layout, stock, timetable].filter((path) => path !== undefined);
  if (paths.length === 1 || paths.length === 2) {
    throw new UsageError('name layout, stock and timetable together, or none of them for the demo');
  }
  if (example !== undefined && paths.length > 0) {
    throw new UsageError('name an example or files, not both');
  }
  return soundFiles(
    paths.length === 0
      ? exampleTexts(example)
      : paths.map((path) => ({ name: path, text: readText(path) })),
  );
}

/** Three files that belong together, in any order. */
export function soundFiles(texts: readonly NamedText[]): LoadedFiles {
  const { faults, layout, stock, timetable } = checkFiles(texts);
  if (faults.length > 0) return { ok: false, faults };
  const files = texts.flatMap(({ text }) => {
    const read = readFile(text);
    return read.ok ? [read.file] : [];
  });
  const timetableFile = files.find((file) => file.kind === 'blockbell-timetable');
  if (!layout || !stock || !timetable || !timetableFile) {
    throw new UsageError('a session needs one layout, one stock and one timetable file');
  }
  return {
    ok: true,
    files: {
      layout: layout.file,
      stock: stock.file,
      timetable: timetableFile,
      compiled: { layout, stock, timetable },
    },
  };
}

import {
  compileLayout,
  compileStock,
  compileTimetable,
  validateLayout,
  validateStagingRules,
  validateStock,
  validateTimetable,
} from '@blockbell/railway';
import type {
  Fault,
  Layout,
  LayoutFile,
  StagingRulesFile,
  Stock,
  StockFile,
  Timetable,
  TimetableFile,
} from '@blockbell/railway';
import type { AnyFile } from './file-kinds.js';
import { readFile, type ReadFile } from './read-file.js';
import { valueFaults } from './read-staging-rules.js';

export interface NamedText {
  /** How the file is called where its faults are shown. */
  readonly name: string;
  readonly text: string;
}

export interface CheckedFiles {
  /** All faults of all files; empty when they are sound. */
  readonly faults: readonly Fault[];
  /** Compiled, each present only if its own file was given and has no fault. */
  readonly layout?: Layout;
  readonly stock?: Stock;
  readonly timetable?: Timetable;
  readonly stagingRules?: StagingRulesFile;
}

interface Named<T extends AnyFile> {
  readonly name: string;
  readonly file: T;
}

/** Reads and examines files together: each for itself, and the timetable and staging rules against layout and stock. */
export function checkFiles(texts: readonly NamedText[]): CheckedFiles {
  const faults: Fault[] = [];
  const add = (file: string, found: readonly Fault[]): void => {
    for (const fault of found) faults.push({ ...fault, file });
  };

  const read: Named<AnyFile>[] = [];
  const misshapen: { readonly name: string; readonly outcome: Extract<ReadFile, { ok: false }> }[] =
    [];
  for (const { name, text } of texts) {
    const outcome = readFile(text);
    if (!outcome.ok) {
      add(name, outcome.faults);
      misshapen.push({ name, outcome });
      continue;
    }
    const same = read.find(({ file }) => file.kind === outcome.file.kind);
    if (same === undefined) read.push({ name, file: outcome.file });
    else add(name, [secondOfItsKind(outcome.file, same.name)]);
  }

  const layoutFile = ofKind<LayoutFile>(read, 'blockbell-layout');
  const layout = sound(layoutFile, validateLayout, compileLayout, add);
  const stockFile = ofKind<StockFile>(read, 'blockbell-stock');
  const stock = sound(stockFile, validateStock, compileStock, add);

  const timetableFile = ofKind<TimetableFile>(read, 'blockbell-timetable');
  if (timetableFile !== null && texts.length === read.length) {
    for (const what of ['layout', 'stock'] as const) {
      if (!read.some(({ file }) => file.kind === `blockbell-${what}`)) {
        add(timetableFile.name, [missing(what, timetableFile.file[what])]);
      }
    }
  }
  const timetable = sound(
    timetableFile,
    (file) => validateTimetable(file, layout, stock),
    (file) => (layout && stock ? compileTimetable(file, layout, stock) : null),
    add,
  );
  const stagingRules = sound(
    ofKind<StagingRulesFile>(read, 'blockbell-staging-rules'),
    (file) => validateStagingRules(file, layout, stock),
    (file) => file,
    add,
  );

  for (const { name, outcome } of misshapen) add(name, valueFaults(outcome, layout, stock));

  return {
    faults,
    ...(layout && { layout }),
    ...(stock && { stock }),
    ...(timetable && { timetable }),
    ...(stagingRules && { stagingRules }),
  };
}

function ofKind<T extends AnyFile>(
  read: readonly Named<AnyFile>[],
  kind: T['kind'],
): Named<T> | null {
  const isKind = (named: Named<AnyFile>): named is Named<T> => named.file.kind === kind;
  return read.find(isKind) ?? null;
}

/** Compiles a file that has no fault; null for one that has, or that is not there. */
function sound<T extends AnyFile, C>(
  named: Named<T> | null,
  validate: (file: T) => readonly Fault[],
  compile: (file: T) => C | null,
  add: (file: string, faults: readonly Fault[]) => void,
): C | null {
  if (named === null) return null;
  const faults = validate(named.file);
  add(named.name, faults);
  return faults.length === 0 ? compile(named.file) : null;
}

const secondOfItsKind = (file: AnyFile, first: string): Fault => ({
  place: 'kind',
  text: `it is a second ${file.kind} file beside ${first}`,
  mend: 'check one layout with its stock and timetable at a time',
});

const missing = (what: 'layout' | 'stock', id: string): Fault => ({
  place: what,
  text: `the ${what} file ${id} was not given, so the timetable can't be checked against it`,
  mend: `name the ${what} file as well`,
});

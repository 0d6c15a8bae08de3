import { checkFiles, readFile, valueFaults, type AnyFile } from '@blockbell/contract';
import { missingPlaces, type Places } from '@blockbell/drawing';
import {
  compileWorld,
  contentHash,
  type Fault,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import type { CheckedFile } from '../storage/file-store.js';
import type { FileKind } from '../storage/stored-file.entity.js';

/** One thing for each of the three files of a session. */
export interface Trio<T> {
  readonly layout: T;
  readonly stock: T;
  readonly timetable: T;
}

/** Three files that were found to fit each other, and what they compile to. */
export interface SessionFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly hashes: Trio<string>;
  /** Where a board draws the elements that the layout places nowhere. */
  readonly places: Places;
  readonly world: World;
}

interface Faulty {
  readonly faults: readonly Fault[];
}

const KINDS: Readonly<Record<AnyFile['kind'], FileKind>> = {
  'blockbell-layout': 'layout',
  'blockbell-stock': 'stock',
  'blockbell-timetable': 'timetable',
  'blockbell-staging-rules': 'staging-rules',
};

/** Checks one file's text by itself; what a timetable says of layout and stock is checked when a session begins. */
export function checkFile(text: string): CheckedFile | Faulty {
  const read = readFile(text);
  if (!read.ok) return { faults: [...read.faults, ...valueFaults(read, null, null)] };
  const { file } = read;
  if (file.kind !== 'blockbell-timetable') {
    const { faults } = checkFiles([{ name: KINDS[file.kind], text }]);
    if (faults.length > 0) return { faults };
  }
  return storedForm(file, contentHash(file), text);
}

/** The timetable file in a text, whatever it says of layout and stock. */
export function timetableIn(text: string): TimetableFile | Faulty {
  const read = readFile(text);
  if (!read.ok) return { faults: read.faults };
  const file = fileOf<TimetableFile>(text, 'blockbell-timetable');
  return 'place' in file ? { faults: [file] } : file;
}

/** Checks the texts of three files, each for itself and all together. */
export function checkTogether(
  texts: Trio<string>,
): { readonly files: SessionFiles; readonly stored: readonly CheckedFile[] } | Faulty {
  const { faults } = checkFiles([
    { name: 'layout', text: texts.layout },
    { name: 'stock', text: texts.stock },
    { name: 'timetable', text: texts.timetable },
  ]);
  if (faults.length > 0) return { faults };
  const layout = fileOf<LayoutFile>(texts.layout, 'blockbell-layout');
  const stock = fileOf<StockFile>(texts.stock, 'blockbell-stock');
  const timetable = fileOf<TimetableFile>(texts.timetable, 'blockbell-timetable');
  const misplaced = [layout, stock, timetable].filter((file) => 'place' in file);
  if ('place' in layout || 'place' in stock || 'place' in timetable) return { faults: misplaced };
  const hashes = {
    layout: contentHash(layout),
    stock: contentHash(stock),
    timetable: contentHash(timetable),
  };
  return {
    files: {
      layout,
      stock,
      timetable,
      hashes,
      places: missingPlaces(layout),
      world: compileWorld(layout, stock, timetable),
    },
    stored: [
      storedForm(layout, hashes.layout, texts.layout),
      storedForm(stock, hashes.stock, texts.stock),
      storedForm(timetable, hashes.timetable, texts.timetable),
    ],
  };
}

const storedForm = (file: AnyFile, hash: string, text: string): CheckedFile => ({
  hash,
  kind: KINDS[file.kind],
  name: file.name,
  layout: layoutOf(file),
  text,
});

/** Id of the layout that a file is, or is for; null: for any. */
function layoutOf(file: AnyFile): string | null {
  if (file.kind === 'blockbell-layout') return file.id;
  return file.kind === 'blockbell-stock' ? null : file.layout;
}

/** The file in a text that was found sound; a fault when it is of another kind than its place asks for. */
function fileOf<T extends AnyFile>(text: string, kind: T['kind']): T | Fault {
  const read = readFile(text);
  if (read.ok && isOfKind<T>(read.file, kind)) return read.file;
  return {
    file: KINDS[kind],
    place: 'kind',
    text: `it is no ${kind} file`,
    mend: 'give each of the three files in its own place',
  };
}

const isOfKind = <T extends AnyFile>(file: AnyFile, kind: T['kind']): file is T =>
  file.kind === kind;

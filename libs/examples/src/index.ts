import { readFileSync } from 'node:fs';
import { EXAMPLE_FOLDERS, fileUrl, type ExampleName } from './example-folders.js';

export type { ExampleName } from './example-folders.js';
export { readableJson } from './example-files.js';

/** The examples there are. */
export const EXAMPLE_NAMES = Object.keys(EXAMPLE_FOLDERS) as readonly ExampleName[];

/** The texts of an example's three files, as they lie on the disk. */
export function exampleFiles(name: ExampleName): {
  readonly layout: string;
  readonly stock: string;
  readonly timetable: string;
} {
  const text = (file: 'layout' | 'stock' | 'timetable'): string =>
    readFileSync(fileUrl(EXAMPLE_FOLDERS[name], file), 'utf8');
  return { layout: text('layout'), stock: text('stock'), timetable: text('timetable') };
}

import { readFileSync, readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The root of the working tree. */
export const root = fileURLToPath(new URL('../..', import.meta.url));

/** Libraries in which time and chance are inputs and arithmetic is the same on every machine. */
export const PURE_LIBRARIES = [
  'railway',
  'scheduling',
  'planning',
  'timetabling',
  'staging',
  'drawing',
  'simulation',
  'rehearsal',
] as const;

export interface SourceFile {
  /** Path below the root. */
  readonly path: string;
  readonly text: string;
}

/** Every file below `folder` (a path below the root) with one of the endings, generated and fetched ones left out. */
export function sourceFiles(folder: string, endings: readonly string[]): SourceFile[] {
  return walk(join(root, folder))
    .filter((path) => endings.some((ending) => path.endsWith(ending)))
    .map((path) => ({ path: relative(root, path), text: readFileSync(path, 'utf8') }));
}

function walk(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !['node_modules', 'dist', 'data'].includes(entry.name))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      return entry.isDirectory() ? walk(path) : [path];
    });
}

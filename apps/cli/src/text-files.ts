import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { UsageError } from './exit-code.js';

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  ENOTDIR: 'a folder on the way to it is a file',
  EISDIR: 'it is a folder',
  EACCES: 'access is denied',
};

/** The text of a file. One that can't be read is named with the reason. */
export function readText(path: string): string {
  return naming(`can't read ${path}`, () => readFileSync(path, 'utf8'));
}

/** The bytes of a file. One that can't be read is named with the reason. */
export const readBytes = (path: string): Uint8Array =>
  naming(`can't read ${path}`, () => readFileSync(path));

/** Writes a file anew. One that can't be written is named with the reason. */
export function writeText(path: string, text: string): void {
  naming(`can't write ${path}`, () => writeFileSync(path, text));
}

/** Makes a folder, and those above it, where there is none. One that can't be made is named with the reason. */
export function makeFolder(path: string): void {
  naming(`can't make ${path}`, () => mkdirSync(path, { recursive: true }));
}

function naming<T>(what: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    const { code = '', message } = error as NodeJS.ErrnoException;
    throw new UsageError(`${what}: ${REASONS[code] ?? message}`);
  }
}

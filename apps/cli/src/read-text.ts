import { readFileSync } from 'node:fs';
import { UsageError } from './exit-code.js';

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
  EACCES: 'you may not read it',
};

/** The text of a file. One that can't be read is named with the reason. */
export function readText(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    const { code = '', message } = error as NodeJS.ErrnoException;
    throw new UsageError(`can't read ${path}: ${REASONS[code] ?? message}`);
  }
}

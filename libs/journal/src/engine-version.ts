import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

/** What decides and what it is tried on: the same files take the same inputs to the same bytes. */
const LIBRARIES = ['railway', 'simulation'] as const;
const LIBS = fileURLToPath(new URL('../../', import.meta.url));
/** This file is run as it was written, or compiled. */
const [FOLDER, ENDING] = import.meta.url.endsWith('.ts') ? ['src', '.ts'] : ['dist', '.js'];

let known: string | null = null;

/**
 * The version of the engine, as a journal names it: that of its package and, since a change of one rule is enough for
 * another session, a hash over its code.
 */
export function engineVersion(): string {
  known ??= `${packageVersion()}-${codeHash()}`;
  return known;
}

function packageVersion(): string {
  const text = readFileSync(join(LIBS, 'railway', 'package.json'), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}

function codeHash(): string {
  const hash = createHash('sha256');
  for (const library of LIBRARIES) {
    const folder = join(LIBS, library, FOLDER);
    const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(isCode).sort();
    for (const file of files) hash.update(file).update(readFileSync(join(folder, file)));
  }
  return hash.digest('hex').slice(0, 12);
}

/** Whether a file of a library decides anything: all code but tests, and the folders that serve only them. */
export const isCode = (file: string): boolean =>
  file.endsWith(ENDING) &&
  !file.endsWith(`.test${ENDING}`) &&
  !file.split(sep).some((part) => part.startsWith('test'));

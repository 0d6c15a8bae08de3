import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { exampleFiles } from '@blockbell/examples';

export interface ExamplePaths {
  readonly folder: string;
  /** Options that name the example's three files. */
  readonly options: readonly string[];
  write(name: string, text: string): string;
}

/** The passing-loop example as files in a folder of its own, with room for more. */
export function passingLoopPaths(): ExamplePaths {
  const folder = mkdtempSync(join(tmpdir(), 'blockbell-cli-'));
  const write = (name: string, text: string): string => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const options = Object.entries(exampleFiles('passing-loop')).flatMap(([kind, text]) => [
    `--${kind}`,
    write(`${kind}.json`, text),
  ]);
  return { folder, options, write };
}

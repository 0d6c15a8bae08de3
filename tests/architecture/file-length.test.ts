import { expect, it } from 'vitest';
import { sourceFiles } from './sources.js';

const LONGEST = 400;

it.each(['apps', 'libs', 'tests'])(
  `no source file in %s is longer than ${LONGEST} lines`,
  (folder) => {
    const files = sourceFiles(folder, ['.ts', '.svelte', '.mjs', '.js']);
    expect(files).not.toHaveLength(0);
    const tooLong = files
      .map(({ path, text }) => ({ path, lines: text.trimEnd().split('\n').length }))
      .filter(({ lines }) => lines > LONGEST);
    expect(tooLong).toEqual([]);
  },
);

import { describe, expect, it } from 'vitest';
import { inexactArithmetic } from './arithmetic.js';
import { PURE_LIBRARIES, sourceFiles } from './sources.js';

describe('arithmetic that differs between machines', () => {
  it.each([
    ['a power', 'const a = 2 ** 3;'],
    ['a power in place', 'let a = 2; a **= 3;'],
    ['a sine', 'const a = Math.sin(1);'],
    ['a hypotenuse', 'const a = Math.hypot(3, 4);'],
    ['chance', 'const a = Math.random();'],
    ['chance by its name in brackets', "const a = Math['random']();"],
    ['chance taken out of Math', 'const { random } = Math;'],
    ['Math under another name', 'const m = Math; m.cos(1);'],
  ])('is found: %s', (_, text) => {
    expect(inexactArithmetic(text)).toHaveLength(1);
  });

  it('is told with its line', () => {
    expect(inexactArithmetic('const a = 1;\nconst b = Math.exp(a);\n')).toEqual([
      { line: 2, found: 'Math.exp' },
    ]);
  });

  it('leaves exact functions alone', () => {
    expect(inexactArithmetic('const a = Math.floor(Math.sqrt(2) * 3) / 4 - -1;')).toEqual([]);
  });

  it.each([...PURE_LIBRARIES, 'rehearsals'])('does not occur in libs/%s', (library) => {
    const files = sourceFiles(`libs/${library}/src`, ['.ts']);
    expect(files).not.toHaveLength(0);
    const places = files
      // What only serves tests decides nothing.
      .filter(({ path }) => !path.endsWith('.test.ts') && !path.includes('/testing/'))
      .flatMap(({ path, text }) =>
        inexactArithmetic(text).map(({ line, found }) => `${path}:${line}: ${found}`),
      );
    expect(places).toEqual([]);
  });
});

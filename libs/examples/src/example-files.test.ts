import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readableJson } from './example-files.js';

describe('readable JSON', () => {
  it('reads back as what was written', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(JSON.parse(readableJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it('puts what fits on one line and a table on one line a row', () => {
    expect(
      readableJson({
        at: [1, 2],
        via: [
          [1, 2],
          [3, 4],
        ],
        none: {},
      }),
    ).toBe(
      `{
  "at": [1, 2],
  "via": [
    [1, 2],
    [3, 4]
  ],
  "none": {}
}
`,
    );
  });

  it('folds nothing into more than a hundred characters', () => {
    const numbers = Array.from({ length: 60 }, (_, index) => ({ index, square: index * index }));
    const lines = readableJson({ list: [{ numbers }, 1], deep: { numbers: { numbers } } }).split(
      '\n',
    );
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
  });
});

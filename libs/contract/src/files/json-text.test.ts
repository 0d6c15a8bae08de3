import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findJsonProblems } from './json-text.js';

describe('findJsonProblems', () => {
  it.each<[string, string, number, number, RegExp]>([
    ['an empty text', '', 1, 1, /the text ends where a value/],
    ['a comma too many', '{\n  "a": 1,\n}', 3, 1, /another entry/],
    ['a missing comma', '{\n  "a": 1\n  "b": 2\n}', 3, 3, /there is "\\"" where "," or "}"/],
    ['a missing colon', '{"a" 1}', 1, 6, /where ":" is/],
    ['an unclosed list', '[1, 2', 1, 6, /the text ends where "," or "]"/],
    ['a name without quotes', '{a: 1}', 1, 2, /name of a field/],
    ['a word', '[yes]', 1, 2, /a value/],
    ['more after the end', '{}\n{}', 2, 1, /the end of the file/],
    ['a line break in a text', '["a\nb"]', 1, 2, /a value/],
    ['a number with a leading zero', '[01]', 1, 3, /"," or "]"/],
    ['a field twice', '{"a": 1,\n "a": 2}', 2, 2, /the field "a" stands twice/],
  ])('places %s', (_, text, line, column, what) => {
    const [problem] = findJsonProblems(text);
    expect(problem).toMatchObject({ line, column });
    expect(problem?.text).toMatch(what);
  });

  it('goes on after a doubled field', () => {
    expect(findJsonProblems('{"a":1,"a":2,"b":{"c":1,"c":1},}')).toHaveLength(3);
  });

  it('finds nothing in any JSON', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(0, 2), (value, indent) => {
        expect(findJsonProblems(JSON.stringify(value, null, indent))).toEqual([]);
      }),
    );
  });

  it('finds something exactly where parsing fails, in any damaged JSON', () => {
    const parses = (text: string): boolean => {
      try {
        JSON.parse(text);
        return true;
      } catch {
        return false;
      }
    };
    fc.assert(
      fc.property(
        fc.jsonValue(),
        fc.nat(),
        fc.constantFrom(
          '',
          ',',
          '"',
          '}',
          ']',
          '{',
          '-',
          '.',
          '0',
          '\\',
          '\t',
          'e',
          ':',
          '\u0001',
          '\ud800',
        ),
        (value, at, put) => {
          const text = JSON.stringify(value);
          const place = at % text.length;
          const broken = text.slice(0, place) + put + text.slice(place + 1);
          const problems = findJsonProblems(broken).filter(
            (it) => !it.text.includes('stands twice'),
          );
          expect(problems.length === 0).toBe(parses(broken));
        },
      ),
      { numRuns: 2000 },
    );
  });
});

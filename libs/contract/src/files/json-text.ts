/** Something in a text that is not JSON, with its place: line and column count from 1. */
export interface JsonProblem {
  readonly line: number;
  readonly column: number;
  readonly text: string;
}

/** Thrown inside the scan at the first place that can't be read; never leaves this file. */
class Unreadable {
  constructor(
    readonly at: number,
    readonly text: string,
  ) {}
}

const SPACE = /[ \t\n\r]*/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
/** Inside quotes: escapes, and every character from the space on but quote and backslash. */
const STRING = /"(?:[ !#-[\]-\uffff]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const WORD = /true|false|null/y;

/**
 * Finds where a text stops being JSON, and fields that stand twice in one object (which plain parsing would let
 * pass, taking the last). Engines word and place such errors differently; this names line and column everywhere.
 */
export function findJsonProblems(text: string): readonly JsonProblem[] {
  const found: { at: number; text: string }[] = [];
  let at = 0;

  const take = (pattern: RegExp): string | null => {
    pattern.lastIndex = at;
    const match = pattern.exec(text)?.[0] ?? null;
    at += match?.length ?? 0;
    return match;
  };
  const skipSpace = (): string | undefined => {
    take(SPACE);
    return text[at];
  };
  const expected = (what: string): Unreadable => {
    const next = text[at];
    const seen = next === undefined ? 'the text ends' : `there is ${JSON.stringify(next)}`;
    return new Unreadable(at, `${seen} where ${what} is expected`);
  };

  /** Reads members up to the closing bracket; `member` reads one. */
  const list = (close: string, member: () => void): void => {
    at++;
    if (skipSpace() === close) {
      at++;
      return;
    }
    for (;;) {
      member();
      const next = skipSpace();
      if (next !== ',' && next !== close) throw expected(`"," or "${close}"`);
      at++;
      if (next === close) return;
      if (skipSpace() === close) throw expected('another entry (there is a comma before it)');
    }
  };

  const value = (): void => {
    const next = skipSpace();
    if (next === '{') {
      const names = new Set<string>();
      list('}', () => {
        skipSpace();
        const start = at;
        const name = take(STRING);
        if (name === null) throw expected('the name of a field in double quotes');
        if (names.has(name)) found.push({ at: start, text: `the field ${name} stands twice` });
        names.add(name);
        if (skipSpace() !== ':') throw expected('":"');
        at++;
        value();
      });
    } else if (next === '[') list(']', value);
    else if (take(STRING) === null && take(NUMBER) === null && take(WORD) === null) {
      throw expected('a value');
    }
  };

  try {
    value();
    if (skipSpace() !== undefined) throw expected('the end of the file');
  } catch (problem) {
    if (!(problem instanceof Unreadable)) throw problem;
    found.push({ at: problem.at, text: problem.text });
  }
  return found.map((problem) => ({ ...lineAndColumn(text, problem.at), text: problem.text }));
}

function lineAndColumn(text: string, at: number): { line: number; column: number } {
  const before = text.slice(0, at);
  return {
    line: before.split('\n').length,
    column: at - before.lastIndexOf('\n'),
  };
}

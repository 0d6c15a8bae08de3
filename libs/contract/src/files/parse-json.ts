import type { Fault } from '@blockbell/railway';
import { findJsonProblems } from './json-text.js';
import { DEEPEST, nestsWithin } from './nesting.js';

const TOO_DEEP: Fault = {
  place: 'file',
  text: `it nests more than ${DEEPEST} levels deep`,
  mend: 'take out what is put into one another without need',
};

export type ParsedJson =
  | { readonly ok: true; readonly json: unknown }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** The value that a text of JSON stands for, or every place where it is not well-formed. */
export function parseJson(text: string): ParsedJson {
  const problems = findJsonProblems(text);
  if (problems.length === 0) {
    const json: unknown = JSON.parse(text);
    return nestsWithin(json, DEEPEST) ? { ok: true, json } : { ok: false, faults: [TOO_DEEP] };
  }
  return {
    ok: false,
    faults: problems.map(({ line, column, text: what }) => ({
      place: `line ${line}, column ${column}`,
      text: what,
      mend: 'correct the file here: it is not well-formed JSON',
    })),
  };
}

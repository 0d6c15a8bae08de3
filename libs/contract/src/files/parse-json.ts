import type { Fault } from '@blockbell/railway';
import { findJsonProblems } from './json-text.js';

export type ParsedJson =
  | { readonly ok: true; readonly json: unknown }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** The value that a text of JSON stands for, or every place where it is not well-formed. */
export function parseJson(text: string): ParsedJson {
  const problems = findJsonProblems(text);
  if (problems.length === 0) return { ok: true, json: JSON.parse(text) };
  return {
    ok: false,
    faults: problems.map(({ line, column, text: what }) => ({
      place: `line ${line}, column ${column}`,
      text: what,
      mend: 'correct the file here: it is not well-formed JSON',
    })),
  };
}

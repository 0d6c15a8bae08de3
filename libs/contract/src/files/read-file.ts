import type { Fault } from '@blockbell/railway';
import { FILE_KINDS, FILE_SCHEMAS, isFileKind } from './file-kinds.js';
import type { AnyFile } from './file-kinds.js';
import { findJsonProblems } from './json-text.js';
import { migrate } from './migrations.js';
import type { JsonObject } from './migrations.js';
import { schemaFaults } from './schema-faults.js';

export type ReadFile =
  | { readonly ok: true; readonly file: AnyFile }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/**
 * Reads a layout, stock or timetable file from its text: JSON, kind, format version (older ones are migrated), shape
 * and types. Whether what it says can be true is for the railway's `validate…` functions.
 */
export function readFile(text: string): ReadFile {
  const problems = findJsonProblems(text);
  if (problems.length > 0) {
    return refuse(
      problems.map(({ line, column, text: what }) => ({
        place: `line ${line}, column ${column}`,
        text: what,
        mend: 'correct the file here: it is not well-formed JSON',
      })),
    );
  }
  const json: unknown = JSON.parse(text);
  if (!isObject(json)) {
    return refuse([
      { place: 'file', text: 'the file is no object', mend: 'begin with { and give its "kind"' },
    ]);
  }
  const { kind } = json;
  if (!isFileKind(kind)) {
    return refuse([
      {
        place: 'kind',
        text:
          kind === undefined
            ? 'the file names no kind'
            : `${JSON.stringify(kind)} is no kind of file`,
        mend: `enter one of ${FILE_KINDS.join(', ')}`,
      },
    ]);
  }
  const migrated = migrate(kind, json);
  if (!migrated.ok) return refuse([migrated.fault]);
  const parsed = FILE_SCHEMAS[kind].safeParse(migrated.json);
  return parsed.success
    ? { ok: true, file: parsed.data }
    : refuse(schemaFaults(migrated.json, parsed.error.issues));
}

const refuse = (faults: readonly Fault[]): ReadFile => ({ ok: false, faults });

const isObject = (value: unknown): value is JsonObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

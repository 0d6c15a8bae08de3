import type { Fault } from '@blockbell/railway';
import { FILE_KINDS, FILE_SCHEMAS, isFileKind } from './file-kinds.js';
import type { AnyFile } from './file-kinds.js';
import { migrate } from './migrations.js';
import type { JsonObject } from './migrations.js';
import { parseJson } from './parse-json.js';
import { schemaFaults } from './schema-faults.js';

export type ReadFile =
  | { readonly ok: true; readonly file: AnyFile }
  | {
      readonly ok: false;
      readonly faults: readonly Fault[];
      /** What has another shape than its kind asks for; absent: it is no such file at all. */
      readonly json?: JsonObject;
    };

/**
 * Reads a layout, stock or timetable file from its text: JSON, kind, format version (older ones are migrated), shape
 * and types. Whether what it says can be true is for the railway's `validate…` functions.
 */
export function readFile(text: string): ReadFile {
  const parsed = parseJson(text);
  if (!parsed.ok) return parsed;
  const { json } = parsed;
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
  const read = FILE_SCHEMAS[kind].safeParse(migrated.json);
  return read.success
    ? { ok: true, file: read.data }
    : {
        ok: false,
        faults: schemaFaults(migrated.json, read.error.issues),
        json: migrated.json,
      };
}

const refuse = (faults: readonly Fault[]): ReadFile => ({ ok: false, faults });

const isObject = (value: unknown): value is JsonObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

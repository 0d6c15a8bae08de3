import type { Fault } from '@blockbell/railway';
import { disturbancesSchema, type DisturbancesFile } from './disturbances-schema.js';
import { parseJson } from './parse-json.js';
import { schemaFaults } from './schema-faults.js';

export type ReadDisturbances =
  | { readonly ok: true; readonly file: DisturbancesFile }
  /** All that is wrong in the file. */
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Reads a file of disturbances for rehearsals. */
export function readDisturbances(text: string): ReadDisturbances {
  const parsed = parseJson(text);
  if (!parsed.ok) return parsed;
  const read = disturbancesSchema.safeParse(parsed.json);
  return read.success
    ? { ok: true, file: read.data }
    : { ok: false, faults: schemaFaults(parsed.json, read.error.issues) };
}

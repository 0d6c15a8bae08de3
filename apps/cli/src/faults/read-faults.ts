import { parseJson, schemaFaults } from '@blockbell/contract';
import type { Fault as FileFault, Layout, Stock } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import { faultFileSchema } from './fault-schema.js';

export type ReadFaults =
  | { readonly ok: true; readonly faults: readonly Fault[] }
  /** All that is wrong in the file. */
  | { readonly ok: false; readonly wrong: readonly FileFault[] };

/** Reads a file of scripted faults for a layout and its stock. */
export function readFaults(text: string, layout: Layout, stock: Stock): ReadFaults {
  const parsed = parseJson(text);
  if (!parsed.ok) return { ok: false, wrong: parsed.faults };
  const { json } = parsed;
  const read = faultFileSchema(layout, stock).safeParse(json);
  return read.success
    ? { ok: true, faults: read.data.faults }
    : { ok: false, wrong: schemaFaults(json, read.error.issues) };
}

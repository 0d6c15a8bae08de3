import type { Fault, Layout, Stock } from '@blockbell/railway';
import type { z } from 'zod';
import { parseJson } from './parse-json.js';
import { schemaFaults } from './schema-faults.js';
import { scriptedFaultsSchema } from './scripted-faults-schema.js';

/** What goes wrong on a simulated layout, and when; sections, elements, trains and districts by their numbers. */
export type ScriptedFault = z.output<ReturnType<typeof scriptedFaultsSchema>>['faults'][number];

export type ReadScriptedFaults =
  | { readonly ok: true; readonly faults: readonly ScriptedFault[] }
  /** All that is wrong in the file. */
  | { readonly ok: false; readonly wrong: readonly Fault[] };

/** Reads a file of scripted faults for a layout and its stock. */
export function readScriptedFaults(text: string, layout: Layout, stock: Stock): ReadScriptedFaults {
  const parsed = parseJson(text);
  if (!parsed.ok) return { ok: false, wrong: parsed.faults };
  const { json } = parsed;
  const read = scriptedFaultsSchema(layout, stock).safeParse(json);
  return read.success
    ? { ok: true, faults: read.data.faults }
    : { ok: false, wrong: schemaFaults(json, read.error.issues) };
}

import {
  validateStagingRules,
  type Fault,
  type Layout,
  type StagingRulesFile,
  type Stock,
} from '@blockbell/railway';
import { readFile, type ReadFile } from './read-file.js';
import { NO_YARD, soundRules } from './sound-rules.js';

export type ReadStagingRules =
  | { readonly ok: true; readonly file: StagingRulesFile }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/**
 * What is wrong with the values of staging rules that have faults of shape as well, so that all are told in one go. Of any
 * other file, nothing: what its values mean hangs together too much.
 */
export function valueFaults(
  read: Extract<ReadFile, { ok: false }>,
  layout: Layout | null,
  stock: Stock | null,
): Fault[] {
  const { json } = read;
  if (json?.['kind'] !== 'blockbell-staging-rules') return [];
  const unnamed = new RegExp(`^(yards\\[\\d+\\]) [${NO_YARD}]`);
  return validateStagingRules(soundRules(json, layout?.file.id ?? null), layout, stock)
    .map((fault) => ({ ...fault, place: fault.place.replace(unnamed, '$1') }))
    .filter(({ place }) => !/^yards\[\d+\]$/.test(place));
}

/** Reads a file of staging rules for a layout and its stock; what it returns can be run. */
export function readStagingRules(text: string, layout: Layout, stock: Stock): ReadStagingRules {
  const read = readFile(text);
  if (!read.ok) return { ok: false, faults: [...read.faults, ...valueFaults(read, layout, stock)] };
  const { file } = read;
  if (file.kind !== 'blockbell-staging-rules') {
    const mend = 'choose a file of the kind blockbell-staging-rules';
    return { ok: false, faults: [{ place: 'kind', text: `it is a ${file.kind} file`, mend }] };
  }
  const faults = validateStagingRules(file, layout, stock);
  return faults.length > 0 ? { ok: false, faults } : { ok: true, file };
}

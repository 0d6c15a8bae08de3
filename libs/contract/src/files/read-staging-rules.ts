import {
  validateStagingRules,
  type Fault,
  type Layout,
  type StagingRulesFile,
  type Stock,
} from '@blockbell/railway';
import { readFile } from './read-file.js';

export type ReadStagingRules =
  | { readonly ok: true; readonly file: StagingRulesFile }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Reads a file of staging rules for a layout and its stock; what it returns can be run. */
export function readStagingRules(text: string, layout: Layout, stock: Stock): ReadStagingRules {
  const read = readFile(text);
  if (!read.ok) return read;
  const { file } = read;
  if (file.kind !== 'blockbell-staging-rules') {
    const mend = 'choose a file of the kind blockbell-staging-rules';
    return { ok: false, faults: [{ place: 'kind', text: `it is a ${file.kind} file`, mend }] };
  }
  const faults = validateStagingRules(file, layout, stock);
  return faults.length > 0 ? { ok: false, faults } : { ok: true, file };
}

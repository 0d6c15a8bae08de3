import type { StagingRulesFile } from '@blockbell/railway';
import { vellinValleyRules } from './vellin-valley/staging-rules.js';

/** The staging rules that come with an example, by the id of its layout; null: none do. Needs no files, so that a page can have them. */
export function exampleRules(layout: string): StagingRulesFile | null {
  const rules = vellinValleyRules();
  return rules.layout === layout ? rules : null;
}

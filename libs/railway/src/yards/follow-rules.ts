import { refusal, type Refusal } from '../session/refusal.js';
import type { Writer } from '../session/writer.js';
import type { StagingRulesFile } from './staging-rules-file.js';
import { validateStagingRules } from './validate-rules.js';
import { forgetWait } from './yard-wait.js';

/** Has the staging yards worked by rules from now on, or by none. Trains that have a track keep it. */
export function followRules(w: Writer, rules: StagingRulesFile | null): Refusal | null {
  if (rules !== null) {
    const [first] = validateStagingRules(rules, w.world.layout, w.world.stock);
    if (first !== undefined)
      return refusal('faulty-rules', `${first.place}: ${first.text}; ${first.mend}.`);
  }
  w.state.staging.rules = rules;
  w.state.trains.forEach((_, index) => forgetWait(w, index));
  w.changes.session = true;
  w.state.dispatching.due = true;
  return null;
}

import { expect, it } from 'vitest';
import { replay } from './proven-order.js';
import { beginSearch, continueSearch } from './safety-search.js';
import { oneway8 } from './testing/published-networks.js';
import { enumerate, type ReferenceVerdicts } from './testing/reference.js';
import type { OrderStep, SafetyProblem } from './safety-problem.js';

const UNKNOWN = 0;
const SAFE = 1;
const DOOMED = 2;

/**
 * The kernel's verdict on every state of the reference. An order proves each state that it passes as well as the one it
 * begins in, so those are taken as proven; the order itself is replayed in full.
 */
function allVerdicts(problem: SafetyProblem, reference: ReferenceVerdicts): Uint8Array {
  const verdicts = new Uint8Array(reference.count);
  for (let state = 0; state < reference.count; state += 1) {
    if (verdicts[state] !== UNKNOWN) continue;
    const nodes = reference.nodesOf(state);
    const verdict = continueSearch(problem, beginSearch(problem, nodes, []), Infinity);
    if (verdict.kind === 'safe') {
      if (!replay(problem, nodes, verdict.order)) throw new Error(`No proof of ${nodes.join()}.`);
      markAlong(reference, verdicts, nodes, verdict.order);
    } else if (verdict.kind === 'doomed') {
      verdicts[state] = DOOMED;
    }
  }
  return verdicts;
}

function markAlong(
  reference: ReferenceVerdicts,
  verdicts: Uint8Array,
  start: readonly number[],
  order: readonly OrderStep[],
): void {
  const nodes = start.slice();
  verdicts[reference.find(nodes)] = SAFE;
  for (const { train, to } of order) {
    nodes[train] = to;
    verdicts[reference.find(nodes)] = SAFE;
  }
}

// Mazzanti, Ferrari, Spagnolo, STTT: 1,636,545 states are safe; a rule that looks at the next block only reaches
// 1,636,561, of which 16 are deadlocks.
it('ONEWAY8: exactly the 1,636,545 safe states are called safe, without one false alarm', () => {
  const { problem, start, at } = oneway8();
  const reference = enumerate(problem, start);
  expect(reference.count).toBe(1_636_561);
  expect(reference.safeCount).toBe(1_636_545);
  expect(reference.deadlocks).toBe(16);
  const deadlock = reference.find(at('15', '13', '20', '11', '18', '17', '25', '22'));
  expect(deadlock).toBeGreaterThanOrEqual(0);

  const verdicts = allVerdicts(problem, reference);
  let differences = 0;
  let safe = 0;
  for (let state = 0; state < reference.count; state += 1) {
    if (verdicts[state] === SAFE) safe += 1;
    if (verdicts[state] !== (reference.safe[state] === 1 ? SAFE : DOOMED)) differences += 1;
  }
  expect(differences).toBe(0);
  expect(safe).toBe(1_636_545);
  expect(verdicts[deadlock]).toBe(DOOMED);
}, 300_000);

import { replay } from './proven-order.js';
import type { OrderStep, SafetyProblem } from './safety-problem.js';
export function grantByOrder(problem: SafetyProblem, nodes: readonly number[], order: readonly OrderStep[], train: number, to: number): OrderStep[] | null {
  const at = order.findIndex((s) => s.train === train);
  if (at < 0 || order[at]!.to !== to) return null;
  const rest = order.toSpliced(at, 1);
  const after = nodes.slice();
  after[train] = to;
  return replay(problem, after, rest) ? rest : null;
}
export function promote(_problem: SafetyProblem, _nodes: readonly number[], order: readonly OrderStep[], _train: number): OrderStep[] { return [...order]; }

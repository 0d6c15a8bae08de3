import type { DelayComponent, Problem, Train } from '../problem/problem.js';

/**
 * What a train pays by the time at which it starts one operation, or whichever of several it comes by:
 * `coeff · max(0, t + later − threshold) + increment · [t + later ≥ threshold]` where it starts one at `t`.
 */
export interface TrainCost {
  /** One of these operations is started on every path, or there is only one. */
  readonly starts: readonly { readonly operation: number; readonly later: number }[];
  readonly threshold: number;
  readonly coeff: number;
  readonly increment: number;
}

/**
 * The delays that a train pays for. Components with the same price are one where each path comes by one of their operations, as by one of
 * the platforms of a call.
 */
export function trainCosts(problem: Problem, number: number): TrainCost[] {
  const byPrice = new Map<string, DelayComponent[]>();
  for (const component of problem.objective) {
    if (component.type !== 'op_delay' || component.train !== number) continue;
    const { coeff, increment } = component;
    if (coeff <= 0 && increment <= 0) continue;
    const price = `${coeff} ${increment}`;
    const known = byPrice.get(price);
    if (known === undefined) byPrice.set(price, [component]);
    else known.push(component);
  }
  const train = problem.trains[number]!;
  return [...byPrice.values()].flatMap((components) => joined(train, components));
}

function joined(train: Train, components: readonly DelayComponent[]): TrainCost[] {
  const alone = ({ operation, threshold, coeff, increment }: DelayComponent): TrainCost => ({
    starts: [{ operation, later: 0 }],
    threshold,
    coeff,
    increment,
  });
  const operations = new Set(components.map(({ operation }) => operation));
  const turns = operations.size === components.length ? turnsOf(train, operations) : null;
  if (turns === null) return components.map(alone);
  const rows = new Map<number, DelayComponent[]>();
  for (const component of components) {
    const turn = turns[component.operation]!;
    const row = rows.get(turn);
    if (row === undefined) rows.set(turn, [component]);
    else row.push(component);
  }
  return [...rows.values()].map((row) => {
    const threshold = Math.max(...row.map((component) => component.threshold));
    return {
      starts: row.map((component) => ({
        operation: component.operation,
        later: threshold - component.threshold,
      })),
      threshold,
      coeff: row[0]!.coeff,
      increment: row[0]!.increment,
    };
  });
}

/** The how-manieth of some operations each operation is, or is behind, on any path; null where paths differ. */
function turnsOf(train: Train, some: ReadonlySet<number>): Int32Array | null {
  const turns = new Int32Array(train.length).fill(-1);
  turns[0] = some.has(0) ? 1 : 0;
  for (let u = 0; u < train.length; u++) {
    for (const v of train[u]!.successors) {
      const turn = turns[u]! + (some.has(v) ? 1 : 0);
      if (turns[v] === -1) turns[v] = turn;
      else if (turns[v] !== turn) return null;
    }
  }
  return turns;
}

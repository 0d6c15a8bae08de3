import type { Component, Operation, Problem, ResourceUse, Train } from '../problem/problem.js';
import { Chance } from '../search/chance.js';

/**
 * A small problem of everything the format knows: alternative paths, resources held together or over several
 * operations or once more, release times, times of zero, latest starts, all kinds of cost. Some have no plan.
 */
export function randomProblem(seed: number): Problem {
  const chance = new Chance(seed);
  const resources = 2 + chance.below(3);
  const trains = Array.from({ length: 2 + chance.below(2) }, () => randomTrain(chance, resources));
  return { trains, objective: randomObjective(chance, trains) };
}

function randomTrain(chance: Chance, resources: number): Train {
  const steps = 2 + chance.below(2);
  const layers: number[][] = [];
  let count = 0;
  for (let step = 0; step <= steps; step++) {
    const inner = step > 0 && step < steps;
    const width = inner && chance.below(3) === 0 ? 2 : 1;
    layers.push(Array.from({ length: width }, () => count++));
  }
  const entryTime = chance.below(2) * chance.below(8);
  return layers.flatMap((layer, step) =>
    layer.map((index): Operation => {
      const next = layers[step + 1] ?? [];
      const afterNext = layers[step + 2] ?? [];
      const skips = afterNext.length > 0 && chance.below(8) === 0;
      const straight = next.length > 1 && layer.length > 1 && chance.below(2) === 0;
      const successors = straight ? [next[index - layer[0]!]!] : [...next];
      if (skips) successors.push(afterNext[0]!);
      return {
        startLb: step === 0 ? entryTime : chance.below(6) === 0 ? chance.below(20) : 0,
        startUb: chance.below(12) === 0 ? 8 + chance.below(25) : Infinity,
        minDuration: chance.below(3) === 0 ? 0 : 1 + chance.below(6),
        resources: next.length === 0 && chance.below(8) > 0 ? [] : randomUses(chance, resources),
        successors,
      };
    }),
  );
}

function randomUses(chance: Chance, resources: number): ResourceUse[] {
  const uses: ResourceUse[] = [];
  for (let resource = 0; resource < resources; resource++) {
    if (chance.below(resources + 1) > 1) continue;
    uses.push({
      resource: `r${resource}`,
      releaseTime: chance.below(3) === 0 ? chance.below(5) : 0,
    });
  }
  return uses;
}

function randomObjective(chance: Chance, trains: readonly Train[]): Component[] {
  const objective: Component[] = trains.map((operations, train) => ({
    type: 'op_delay',
    train,
    operation: operations.length - 1 - (chance.below(5) === 0 ? 1 : 0),
    threshold: chance.below(20) - 4,
    coeff: chance.below(4),
    increment: chance.below(3) === 0 ? chance.below(15) : 0,
  }));
  if (chance.below(4) === 0) objective.push({ type: 'makespan', coeff: 1 + chance.below(2) });
  trains.forEach((operations, train) => {
    for (const { successors } of operations) {
      if (successors.length < 2 || chance.below(3) === 0) continue;
      // The same price whichever way it goes, from another time on each.
      const price = { coeff: chance.below(4), increment: chance.below(3) === 0 ? 4 : 0 };
      for (const operation of successors)
        objective.push({
          type: 'op_delay',
          train,
          operation,
          threshold: chance.below(12),
          ...price,
        });
    }
  });
  return objective;
}

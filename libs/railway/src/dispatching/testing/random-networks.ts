import type { Move, SafetyProblem, TrainGraph } from '../safety-problem.js';
import { seededIntegers } from './line-network.js';

/**
 * A small network without rhyme or reason, the same for the same seed: two to four trains with up to six nodes each;
 * moves may go back as well as on, need more than they come to hold, and demand resources that the train may
 * not hold itself; goals may hold resources and may have moves. Starts never share a resource.
 */
export function randomNetworks(seed: number): SafetyProblem {
  const random = seededIntegers(seed ^ 0x5bd1e995);
  for (let warming = 0; warming < 4; warming += 1) random(2);
  const resourceCount = 3 + random(5);
  const trains = Array.from({ length: 2 + random(3) }, (_, train) =>
    randomGraph(random, resourceCount, train),
  );
  return { resourceCount: resourceCount + trains.length, trains };
}

/** All trains at their first nodes. */
export function startOf(problem: SafetyProblem): number[] {
  return problem.trains.map(() => 0);
}

function randomGraph(random: (below: number) => number, shared: number, train: number): TrainGraph {
  const size = 2 + random(5);
  const some = (most: number): number[] => [
    ...new Set(Array.from({ length: random(most + 1) }, () => random(shared))),
  ];
  // The first node holds a resource of the train's own, so that every start is legal.
  const holds = Array.from({ length: size }, (_, node) =>
    node === 0 ? [shared + train] : some(2),
  );
  const goals = holds.map((_, node) => node === size - 1 || random(8) === 0);
  const moves = holds.map((_, node): Move[] => {
    if (goals[node] && random(2) === 0) return [];
    const targets = [
      ...(node + 1 < size && random(10) > 0 ? [node + 1] : []),
      ...(random(3) === 0 ? [random(size)] : []),
      ...(random(3) === 0 ? [random(size)] : []),
    ].filter((to) => to !== node);
    return targets.map((to) => ({
      to,
      needs: [...new Set([...holds[to]!, ...(random(4) === 0 ? some(1) : [])])],
      needsFreeOfSelf: random(8) === 0 ? holds[to]!.slice(0, 1) : [],
    }));
  });
  return {
    moves: (node) => moves[node]!,
    holds: (node) => holds[node]!,
    isGoal: (node) => goals[node]!,
    distance: (node) => (goals[node] ? 0 : 1),
  };
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { promote } from './promote.js';
import { grantByDetour, grantByOrder, replay } from './proven-order.js';
import { beginSearch, continueSearch } from './safety-search.js';
import type { Move, OrderStep, SafetyProblem } from './safety-problem.js';
import { lineNetwork } from './testing/line-network.js';
import { blockNetwork, noLoop } from './testing/published-networks.js';
import { randomNetworks, startOf } from './testing/random-networks.js';
import { enumerate, legalSuccessors } from './testing/reference.js';

type Grant = typeof grantByOrder;

function prove(problem: SafetyProblem, nodes: readonly number[]): readonly OrderStep[] | undefined {
  const verdict = continueSearch(problem, beginSearch(problem, nodes, [], 1_000_000), Infinity);
  return verdict.kind === 'safe' ? verdict.order : undefined;
}

function moveTo(problem: SafetyProblem, nodes: readonly number[], train: number, to: number): Move {
  const move = problem.trains[train]!.moves(nodes[train]!).find((one) => one.to === to);
  if (move === undefined) throw new Error(`Train ${train} has no move to ${to}.`);
  return move;
}

/** Asks for every move of every train from the start; returns how often the answer was "safe". */
function checkAllGrants(problem: SafetyProblem, nodes: readonly number[], grant: Grant): number {
  const order = prove(problem, nodes);
  if (order === undefined) return 0;
  const legal = legalSuccessors(problem, nodes).map((state) => state.join());
  let granted = 0;
  nodes.forEach((node, train) => {
    for (const move of problem.trains[train]!.moves(node)) {
      const answer = grant(problem, nodes, order, train, move);
      if (answer.kind === 'unknown') continue;
      granted += 1;
      const after = nodes.with(train, move.to);
      expect(legal).toContain(after.join());
      expect(replay(problem, after, answer.order)).toBe(true);
      const reference = enumerate(problem, after);
      expect(reference.safe[reference.find(after)]).toBe(1);
    }
  });
  return granted;
}

describe('replay', () => {
  const { problem, start, nodeOf } = noLoop();
  const east = ['S1', 'S2', 'S3', '*E'].map((place) => ({ train: 0, to: nodeOf(0, place) }));
  const west = ['S3', 'S2', 'S1', '*W'].map((place) => ({ train: 1, to: nodeOf(1, place) }));

  it('accepts an order that is legal throughout and ends at the goals', () => {
    expect(replay(problem, start, [...east, ...west])).toBe(true);
    expect(replay(problem, start, [...west, ...east])).toBe(true);
  });

  it('refuses a blocked step, a step that is no move, an unknown train and an end short of a goal', () => {
    expect(replay(problem, start, [...east.slice(0, 3), ...west, east[3]!])).toBe(false);
    expect(replay(problem, start, [east[1]!])).toBe(false);
    expect(replay(problem, start, [{ train: 2, to: 0 }])).toBe(false);
    expect(replay(problem, start, east)).toBe(false);
  });

  it('refuses a step that finds its own train still standing on what must be free', () => {
    const network = blockNetwork(['a,b']);
    const graph = network.problem.trains[0]!;
    const held = graph.holds(0)[0]!;
    const bridged: SafetyProblem = {
      ...network.problem,
      trains: [
        {
          ...graph,
          moves: (node) => graph.moves(node).map((one) => ({ ...one, needsFreeOfSelf: [held] })),
        },
      ],
    };
    expect(replay(network.problem, [0], [{ train: 0, to: 1 }])).toBe(true);
    expect(replay(bridged, [0], [{ train: 0, to: 1 }])).toBe(false);
  });
});

describe('grants by the proven order', { timeout: 60_000 }, () => {
  it('grants the first step, and a later one that is in nobody’s way', () => {
    const { problem, start } = blockNetwork(['a,b,c', 'd,e,f']);
    const order = [
      { train: 0, to: 1 },
      { train: 0, to: 2 },
      { train: 1, to: 1 },
      { train: 1, to: 2 },
    ];
    const first = grantByOrder(problem, start, order, 0, moveTo(problem, start, 0, 1));
    expect(first).toEqual({ kind: 'safe', order: order.slice(1) });
    const later = grantByOrder(problem, start, order, 1, moveTo(problem, start, 1, 1));
    expect(later).toEqual({ kind: 'safe', order: [order[0], order[1], order[3]] });
  });

  it('does not grant what an earlier step of another train still needs', () => {
    const { problem, start, nodeOf } = noLoop();
    const order = prove(problem, start)!;
    const late = order.at(-1)!.train;
    const place = late === 0 ? 'S1' : 'S3';
    const move = moveTo(problem, start, late, nodeOf(late, place));
    expect(grantByOrder(problem, start, order, late, move)).toEqual({ kind: 'unknown' });
  });

  it.each<[string, Grant]>([
    ['order', grantByOrder],
    ['detour', grantByDetour],
  ])('by %s are legal, proven and safe in plain enumeration', (_, grant) => {
    let granted = 0;
    fc.assert(
      fc.property(fc.integer({ min: 0 }), (seed) => {
        const problem = randomNetworks(seed);
        granted += checkAllGrants(problem, startOf(problem), grant);
      }),
      { numRuns: 300, seed: 20_234 },
    );
    expect(granted).toBeGreaterThan(50);
  });

  it('takes the other track by a detour and comes back to its steps', () => {
    const { problem, start, nodeOf } = blockNetwork(['a,p|q,r,s', 'x,y']);
    const way = (places: readonly string[]): OrderStep[] =>
      places.map((place) => ({ train: 0, to: nodeOf(0, place) }));
    const other = { train: 1, to: nodeOf(1, 'y') };
    const order = [...way(['p', 'r']), other, ...way(['s'])];
    const move = moveTo(problem, start, 0, nodeOf(0, 'q'));
    expect(grantByOrder(problem, start, order, 0, move).kind).toBe('unknown');
    expect(grantByDetour(problem, start, order, 0, move)).toEqual({
      kind: 'safe',
      order: order.slice(1),
    });
  });
});

describe('promote', { timeout: 60_000 }, () => {
  it('leaves a valid order and never puts the train later', () => {
    let moved = 0;
    fc.assert(
      fc.property(fc.integer({ min: 0 }), fc.nat(3), (seed, pick) => {
        const problem = randomNetworks(seed);
        const start = startOf(problem);
        const order = prove(problem, start);
        if (order === undefined) return;
        const train = pick % start.length;
        const promoted = promote(problem, start, order, train);
        expect(replay(problem, start, promoted)).toBe(true);
        const place = (steps: readonly OrderStep[]): number =>
          steps.findIndex((step) => step.train === train);
        expect(place(promoted)).toBeLessThanOrEqual(place(order));
        if (place(promoted) < place(order)) moved += 1;
        for (const [other] of start.entries()) {
          const own = (steps: readonly OrderStep[]): readonly OrderStep[] =>
            steps.filter((step) => step.train === other);
          expect(own(promoted)).toEqual(own(order));
        }
      }),
      { numRuns: 300, seed: 20_235 },
    );
    expect(moved).toBeGreaterThan(20);
  });

  it('lets a train run to where it is in nobody’s way', () => {
    const { problem, start, nodeOf } = blockNetwork(['W1,S1,L1,S2,*E', 'E1,S2,L2,S1,*W']);
    const t1 = ['S1', 'L1', 'S2', '*E'].map((place) => ({ train: 0, to: nodeOf(0, place) }));
    const t2 = ['S2', 'L2', 'S1', '*W'].map((place) => ({ train: 1, to: nodeOf(1, place) }));
    const promoted = promote(problem, start, [...t1, ...t2], 1);
    // T1 still needs S2, so T2 goes on to its own loop track before T1 begins.
    expect(promoted).toEqual([...t2.slice(0, 2), ...t1, ...t2.slice(2)]);
  });

  it('brings only what the train depends on before it', () => {
    const { problem, start, nodeOf } = blockNetwork(['a,m,b,*E', 'c,m,d,*E', 'x,y,*E']);
    const way = (train: number, places: readonly string[]): OrderStep[] =>
      places.map((place) => ({ train, to: nodeOf(train, place) }));
    const nodes = start.with(0, nodeOf(0, 'm'));
    const order = [...way(2, ['y', '*E']), ...way(0, ['b', '*E']), ...way(1, ['m', 'd', '*E'])];
    expect(replay(problem, nodes, order)).toBe(true);
    // T1 waits for the block that T0 stands in; nothing waits for T2.
    expect(promote(problem, nodes, order, 1)).toEqual([
      ...way(0, ['b']),
      ...way(1, ['m']),
      ...way(2, ['y', '*E']),
      ...way(0, ['*E']),
      ...way(1, ['d', '*E']),
    ]);
  });
});

it('carries a line of 60 trains with some 90 moves each to its end', () => {
  const { problem, start } = lineNetwork({
    seed: 11,
    trains: 60,
    stations: 8,
    legs: 2,
    blocksBetween: 4,
    singlePercent: 40,
    longPercent: 30,
  });
  const search = beginSearch(problem, start, []);
  const verdict = continueSearch(problem, search, Infinity);
  if (verdict.kind !== 'safe') throw new Error(`The line is ${verdict.kind}.`);
  expect(verdict.order).toHaveLength(5_400);
  expect(replay(problem, start, verdict.order)).toBe(true);
  let first = 0;
  for (let train = 0; train < 60; train += 4) {
    const promoted = promote(problem, start, verdict.order, train);
    expect(replay(problem, start, promoted)).toBe(true);
    if (promoted[0]!.train === train) first += 1;
  }
  expect(first).toBeGreaterThan(3);
}, 60_000);

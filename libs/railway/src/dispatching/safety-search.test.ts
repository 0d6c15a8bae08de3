import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { replay } from './proven-order.js';
import { beginSearch, continueSearch, type Search } from './safety-search.js';
import type { OrderStep, SafetyProblem, SafetyVerdict } from './safety-problem.js';
import { lineNetwork } from './testing/line-network.js';
import { randomNetworks, startOf } from './testing/random-networks.js';
import { enumerate } from './testing/reference.js';

const ENOUGH = 1_000_000;

function solve(
  problem: SafetyProblem,
  nodes: readonly number[],
  guide: readonly OrderStep[] = [],
): SafetyVerdict {
  return continueSearch(problem, beginSearch(problem, nodes, guide, ENOUGH), Infinity);
}

/** Solves in slices; `between` may swap the search for a copy. */
function solveInSlices(
  problem: SafetyProblem,
  search: Search,
  slice: number,
  between: (search: Search) => Search,
): SafetyVerdict {
  for (;;) {
    const verdict = continueSearch(problem, search, slice);
    if (verdict.kind !== 'searching') return verdict;
    search = between(search);
  }
}

describe('safety search', { timeout: 60_000 }, () => {
  it('agrees with plain enumeration on every reachable state of random networks', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0 }), (seed) => {
        const problem = randomNetworks(seed);
        const start = startOf(problem);
        const reference = enumerate(problem, start);
        for (let state = 0; state < reference.count; state += 1) {
          const nodes = reference.nodesOf(state);
          const verdict = solve(problem, nodes);
          expect(verdict.kind, `seed ${seed} state ${nodes.join()}`).toBe(
            reference.safe[state] === 1 ? 'safe' : 'doomed',
          );
          if (verdict.kind === 'safe') expect(replay(problem, nodes, verdict.order)).toBe(true);
        }
      }),
      { numRuns: 150, seed: 20_231 },
    );
  });

  it('gives the same verdict whatever order guides it', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0 }),
        fc.array(fc.record({ train: fc.nat(4), to: fc.nat(8) }), { maxLength: 30 }),
        (seed, guide) => {
          const problem = randomNetworks(seed);
          const start = startOf(problem);
          expect(solve(problem, start, guide).kind).toBe(solve(problem, start).kind);
        },
      ),
      { numRuns: 300, seed: 20_232 },
    );
  });

  it('comes to the same end in slices, and through stored copies between them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0 }), fc.integer({ min: 1, max: 5 }), (seed, slice) => {
        const problem = randomNetworks(seed);
        const start = startOf(problem);
        const whole = beginSearch(problem, start, [], ENOUGH);
        const verdict = continueSearch(problem, whole, Infinity);
        const sliced = beginSearch(problem, start, [], ENOUGH);
        expect(solveInSlices(problem, sliced, slice, (search) => search)).toEqual(verdict);
        expect(sliced).toEqual(whole);
        const stored = beginSearch(problem, start, [], ENOUGH);
        const reload = (search: Search): Search => JSON.parse(JSON.stringify(search)) as Search;
        expect(solveInSlices(problem, stored, slice, reload)).toEqual(verdict);
      }),
      { numRuns: 300, seed: 20_233 },
    );
  });

  it('ends within its limit whatever it is asked, and each slice within its own and one look ahead', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0 }),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 1, max: 40 }),
        (seed, slice, limit) => {
          const problem = randomNetworks(seed);
          const search = beginSearch(problem, startOf(problem), [], limit);
          let slices = 0;
          while (continueSearch(problem, search, slice).kind === 'searching') slices++;
          expect(slices).toBeLessThanOrEqual(Math.ceil(limit / slice));
          // The networks are small: a look ahead costs less than four expansions there.
          expect(search.expansions).toBeLessThan(limit + 4);
        },
      ),
      { numRuns: 300, seed: 20_234 },
    );
  });

  it('stops at its limit, says so, and never says doomed for lack of budget', () => {
    const { problem, start } = lineNetwork({
      seed: 1,
      trains: 6,
      stations: 3,
      legs: 1,
      blocksBetween: 2,
      singlePercent: 100,
      longPercent: 0,
    });
    const search = beginSearch(problem, start, [], 10);
    expect(continueSearch(problem, search, 4)).toEqual({ kind: 'searching' });
    const verdict = continueSearch(problem, search, 100);
    expect(verdict.kind).toBe('exhausted');
    expect(search.expansions).toBeGreaterThanOrEqual(10);
    expect(continueSearch(problem, search, 100)).toEqual(verdict);
  });
});

import { describe, expect, it } from 'vitest';
import { beginSearch, continueSearch } from './safety-search.js';
import type { SafetyProblem } from './safety-problem.js';
import {
  blockNetwork,
  gridlock4,
  loop1,
  meet3,
  noLoop,
  ring,
  station2,
  yard2,
  type PublishedNetwork,
} from './testing/published-networks.js';
import { enumerate, legalSuccessors } from './testing/reference.js';

function verdict(problem: SafetyProblem, nodes: readonly number[]): string {
  return continueSearch(problem, beginSearch(problem, nodes, []), Infinity).kind;
}

/** Compares every reachable state's verdict with the reference; returns the reference's counts. */
function compareAll({ problem, start }: PublishedNetwork): { states: number; safe: number } {
  const reference = enumerate(problem, start);
  for (let state = 0; state < reference.count; state += 1) {
    const nodes = reference.nodesOf(state);
    expect(verdict(problem, nodes), nodes.join()).toBe(
      reference.safe[state] === 1 ? 'safe' : 'doomed',
    );
  }
  return { states: reference.count, safe: reference.safeCount };
}

/** Successors of a state that the kernel calls doomed. */
function unsafeMoves({ problem }: PublishedNetwork, nodes: readonly number[]): number[][] {
  return legalSuccessors(problem, nodes).filter((next) => verdict(problem, next) === 'doomed');
}

describe('safety search on published networks', { timeout: 60_000 }, () => {
  it('NOLOOP (derived, reproduced independently): two trains that can both move are doomed', () => {
    const network = noLoop();
    expect(verdict(network.problem, network.start)).toBe('safe');
    const doomed = network.at('S1', 'S3');
    expect(legalSuccessors(network.problem, doomed)).toHaveLength(2);
    expect(verdict(network.problem, doomed)).toBe('doomed');
    compareAll(network);
  });

  it('LOOP1 (phenomenon: Cui, Martin, Liang, JRTPM 7, 2017): no false alarm in 23 states', () => {
    const network = loop1();
    expect(compareAll(network)).toEqual({ states: 23, safe: 23 });
    expect(verdict(network.problem, network.at('S1', 'S2'))).toBe('safe');
  });

  it('STATION2 (published in words, reproduced independently): deadlock, one unsafe move, doomed but mobile', () => {
    const stuck = station2(['A1', 'A2'], ['M']);
    expect(legalSuccessors(stuck.problem, stuck.start)).toEqual([]);
    expect(verdict(stuck.problem, stuck.start)).toBe('doomed');

    const meeting = station2(['A1', 'A2'], ['B1']);
    compareAll(meeting);
    expect(verdict(meeting.problem, meeting.start)).toBe('safe');
    expect(unsafeMoves(meeting, meeting.start)).toEqual([meeting.at('A1', 'A2', 'M')]);

    const full = station2(['A1', 'A2'], ['B1', 'B2']);
    expect(verdict(full.problem, full.start)).toBe('doomed');
    const next = legalSuccessors(full.problem, full.start);
    expect(next.length).toBeGreaterThan(0);
    for (const state of next) expect(legalSuccessors(full.problem, state)).toEqual([]);
  });

  it.each([3, 4, 5, 6])(
    'RING(%i) (reproduced independently): full is stuck, one gap lets one move',
    (n) => {
      const full = ring(n, n);
      expect(legalSuccessors(full.problem, full.start)).toEqual([]);
      expect(verdict(full.problem, full.start)).toBe('doomed');
      const gap = ring(n, n - 1);
      expect(legalSuccessors(gap.problem, gap.start)).toHaveLength(1);
      compareAll(gap);
    },
  );

  it('GRIDLOCK4 (derived, reproduced independently): 193 states, 192 safe', () => {
    expect(compareAll(gridlock4())).toEqual({ states: 193, safe: 192 });
  });

  it('YARD2 (derived, reproduced independently): a full yard must not be entered', () => {
    const network = yard2();
    compareAll(network);
    expect(verdict(network.problem, network.start)).toBe('safe');
    expect(verdict(network.problem, network.at('A', 'Y1', 'Y2'))).toBe('doomed');
    expect(unsafeMoves(network, network.start)).toEqual([network.at('A', 'Y1', 'Y2')]);
  });

  describe('MEET3 (Dal Sasso, Lamorgese, Mannino et al., J. Rail Transp. Plan. Manag. 17, 2021)', () => {
    const lengths = Array.from({ length: 12 }, (_, index) => index + 1);

    it.each([
      { T1: 1, T2: 1, T3: 1, expected: 'safe' },
      { T1: 8, T2: 1, T3: 1, expected: 'doomed' },
      { T1: 4, T2: 1, T3: 10, expected: 'safe' },
    ])('T1 $T1, T2 $T2, T3 $T3 is $expected', ({ expected, ...trains }) => {
      const network = meet3(trains);
      expect(verdict(network.problem, network.start)).toBe(expected);
      compareAll(network);
    });

    it('is doomed for every T1 of 6 or longer', () => {
      for (const T1 of lengths.filter((length) => length >= 6)) {
        for (const T2 of lengths) {
          for (const T3 of lengths) {
            const { problem, start } = meet3({ T1, T2, T3 });
            expect(verdict(problem, start), `${T1} ${T2} ${T3}`).toBe('doomed');
          }
        }
      }
    });

    it('with only T1 and T3 is safe exactly when the shorter is at most 5', () => {
      for (const T1 of lengths) {
        for (const T3 of lengths) {
          const network = meet3({ T1, T3 });
          expect(verdict(network.problem, network.start), `${T1} ${T3}`).toBe(
            Math.min(T1, T3) <= 5 ? 'safe' : 'doomed',
          );
        }
      }
    });
  });

  it('knows a state with all trains at their goals as safe without a step', () => {
    const { problem } = blockNetwork(['a', 'b,c']);
    const done = continueSearch(problem, beginSearch(problem, [0, 1], []), Infinity);
    expect(done).toEqual({ kind: 'safe', order: [] });
  });
});

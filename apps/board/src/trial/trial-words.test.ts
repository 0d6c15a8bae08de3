import type { TriedRouteView } from '@blockbell/contract/messages';
import { expect, it } from 'vitest';
import {
  progressWords,
  remarksOn,
  resultWords,
  staleWords,
  useWords,
  type Trial,
} from './trial-words.js';

const running: Trial = {
  state: 'running',
  done: 25,
  of: 100,
  took: 5000,
  failed: [],
  why: null,
  report: null,
};

it('tells how far a trial is and how long it will take, by what it took so far', () => {
  expect(progressWords({ ...running, of: null, done: 0 })).toBe('The first route is being tried …');
  expect(progressWords(running)).toBe('25 of 100 routes tried, none failed, about 15 s left');
  expect(progressWords({ ...running, failed: ['A–B'], took: 60_000 })).toBe(
    '25 of 100 routes tried, 1 failed, about 3 min 00 s left',
  );
  expect(progressWords({ ...running, done: 1, of: 1 })).toMatch(/^1 of 1 route tried/);
});

it('tells of a trial that says nothing of the layout that runs', () => {
  const tried = { name: 'Vale', hash: 'aa' };
  expect(staleWords(tried, 'Vale')).toContain('as it was before it was changed');
  expect(staleWords(tried, 'Fen')).toBe('The last trial was of another layout, Vale.');
});

it('sums up a trial, and says when it was broken off', () => {
  const use = { used: 3, of: 4, unused: ['W2 reverse'] };
  const report = {
    layout: { name: 'x', hash: 'y' },
    seed: 1,
    trials: [],
    passed: 3,
    failed: 1,
    notRun: 0,
    coverage: { drives: use, sections: use, signals: use },
    whole: true,
  };
  expect(resultWords(report)).toBe('3 passed, 1 failed, 0 not run');
  expect(resultWords({ ...report, whole: false })).toMatch(/; broken off before the end$/);
  expect(useWords(use, 'positions')).toBe('3 of 4 positions, not W2 reverse');
  expect(useWords({ used: 4, of: 4, unused: [] }, 'sections')).toBe('4 of 4 sections');
});

it('puts what went wrong, its mend and what is worth knowing in one line', () => {
  const tried: TriedRouteView = {
    route: 'A>B',
    name: 'Vale 1 → block B',
    from: 'A.b',
    to: 'B.b',
    train: '3',
    outcome: 'failed',
    fault: { text: 'Turnout W1 did not prove.', mend: 'Look at its drive.' },
    notes: ['Section b2 was never seen.'],
    took: null,
    short: null,
    aspect: null,
    drives: [],
    sections: [],
  };
  expect(remarksOn(tried)).toBe(
    'Turnout W1 did not prove. Look at its drive. Section b2 was never seen.',
  );
  expect(remarksOn({ ...tried, fault: { text: 'No train fits.', mend: null }, notes: [] })).toBe(
    'No train fits.',
  );
});

import type { LineUpView, SessionView } from '@blockbell/contract/messages';
import { describe, expect, it } from 'vitest';
import { confirmAsListed, isLiningUp, lineUpToShow, nextStep } from './line-up-steps.js';

const row = (train: number, status: LineUpView['status'], heading = train * 2): LineUpView => ({
  train,
  heading,
  place: '',
  status,
  text: '',
});
const rows = [
  row(0, 'confirmed'),
  row(1, 'ask'),
  row(2, 'missing'),
  row(3, 'ask', -1),
  row(4, 'mismatch'),
];
const session = (phase: SessionView['phase'], openQuestions: number): SessionView => ({
  id: 's',
  name: '',
  day: '',
  phase,
  why: null,
  departuresHeld: false,
  clock: { fast: 0, since: 0, ratio: 6, running: false },
  pace: 1,
  device: '',
  districts: ['on'],
  openQuestions,
  crews: [],
});

describe('the line-up', () => {
  it('shows open questions first', () => {
    expect(lineUpToShow(rows).map(({ train }) => train)).toEqual([1, 2, 3, 4, 0]);
  });

  it('confirms as listed only what lacks nothing but a word', () => {
    expect(confirmAsListed(rows)).toEqual([{ kind: 'confirm-place', train: 1, heading: 2 }]);
  });

  it('tells what to do next', () => {
    expect(nextStep(session('set-up', 0), [], 0)).toContain('switch track power on');
    expect(nextStep(session('line-up', 5), rows, 1)).toBe(
      'Look at the layout and say where 4 trains stand and say what stands in one block. Then start.',
    );
    expect(nextStep(session('line-up', 0), [row(0, 'confirmed')], 0)).toContain(
      'Start the session',
    );
  });

  it('takes its place before a start and while a stop left questions', () => {
    expect(isLiningUp(session('line-up', 0))).toBe(true);
    expect(isLiningUp(session('stopped', 2))).toBe(true);
    expect(isLiningUp(session('stopped', 0))).toBe(false);
    expect(isLiningUp(session('running', 2))).toBe(false);
  });
});

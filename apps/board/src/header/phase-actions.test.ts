import type { SessionView } from '@blockbell/contract/messages';
import { describe, expect, it } from 'vitest';
import { phaseActions, phaseNote } from './phase-actions.js';

const session = (more: Partial<SessionView>): SessionView => ({
  id: 's',
  name: 'Evening',
  day: 'Saturday',
  phase: 'running',
  why: null,
  departuresHeld: false,
  clock: { fast: 0, since: 0, ratio: 6, running: true },
  pace: 1,
  device: 'simulated layout',
  districts: ['on'],
  openQuestions: 0,
  crews: [],
  ...more,
});
const kinds = (more: Partial<SessionView>): string[] =>
  phaseActions(session(more)).map(({ command }) => command.kind);

describe('controls of the session', () => {
  it('are those of its phase', () => {
    expect(kinds({ phase: 'set-up' })).toEqual(['power-up']);
    expect(kinds({ phase: 'line-up' })).toEqual(['start']);
    expect(kinds({ phase: 'running' })).toEqual(['pause', 'hold-departures', 'stop-all']);
    expect(kinds({ phase: 'paused' })).toEqual(['resume', 'hold-departures', 'stop-all']);
    expect(kinds({ phase: 'stopped' })).toEqual(['resume', 'hold-departures']);
    expect(kinds({ phase: 'powerless' })).toEqual(['power-up']);
    expect(kinds({ phase: 'ended' })).toEqual([]);
  });

  it('bring back power before anything else where a district has none', () => {
    expect(kinds({ phase: 'line-up', districts: ['on', 'short'] })).toEqual(['power-up']);
    expect(kinds({ phase: 'stopped', districts: ['off'] })).toEqual([
      'power-up',
      'hold-departures',
    ]);
  });

  it('bar the start with the reason while a question is open', () => {
    const [start] = phaseActions(session({ phase: 'line-up', openQuestions: 3 }));
    expect(start?.barred).toContain('3 questions');
    expect(phaseActions(session({ phase: 'line-up' }))[0]?.barred).toBeNull();
    expect(
      phaseActions(session({ phase: 'line-up', why: 'Not all has reported.' }))[0]?.barred,
    ).toBe('Not all has reported.');
  });

  it('let departures go again while they are held', () => {
    const hold = phaseActions(session({ departuresHeld: true }))[1];
    expect(hold?.command).toEqual({ kind: 'hold-departures', hold: false });
  });
});

describe('the note on a phase', () => {
  it('says why all stands', () => {
    expect(phaseNote(session({ phase: 'powerless', why: 'cut by Ada' }))).toContain('cut by Ada');
    expect(phaseNote(session({ phase: 'stopped', openQuestions: 1 }))).toContain('open questions');
    expect(phaseNote(session({}))).toBeNull();
  });
});

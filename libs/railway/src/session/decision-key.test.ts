import { describe, expect, it } from 'vitest';
import { decisionKey } from './decision-key.js';
import { createSession } from './create-session.js';
import { setDeadline } from './deadlines.js';
import { compileWorld } from './world.js';
import { passingLoop } from '../testing/layout-parts.js';
import { twoTrains } from '../testing/stock-parts.js';
import { meet } from '../testing/timetable-parts.js';

const fresh = () => createSession(compileWorld(passingLoop(), twoTrains(), meet()));

describe('the decision key', () => {
  it('leaves absolute times and evidence out', () => {
    const early = fresh();
    const late = fresh();
    late.now = 90_000;
    late.revision = 7;
    late.session.clock.since = 90_000;
    late.trains[0]!.identity.evidence = 'other words';
    late.sections[0]!.since = 12;
    expect(decisionKey(late)).toBe(decisionKey(early));
  });

  it('keeps the order of deadlines, not their times', () => {
    const [one, shifted, swapped] = [fresh(), fresh(), fresh()];
    setDeadline(one, 'hold-off', 0, 100);
    setDeadline(one, 'drive', 1, 200);
    setDeadline(shifted, 'hold-off', 0, 1100);
    setDeadline(shifted, 'drive', 1, 5200);
    setDeadline(swapped, 'hold-off', 0, 300);
    setDeadline(swapped, 'drive', 1, 200);
    expect(decisionKey(shifted)).toBe(decisionKey(one));
    expect(decisionKey(swapped)).not.toBe(decisionKey(one));
  });

  it('tells beliefs apart', () => {
    const known = fresh();
    const other = fresh();
    other.sections[0]!.belief = 'occupied';
    expect(decisionKey(other)).not.toBe(decisionKey(known));
  });
});

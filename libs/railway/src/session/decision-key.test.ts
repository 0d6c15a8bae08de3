import { describe, expect, it } from 'vitest';
import { decisionKey } from './decision-key.js';
import { createSession } from './create-session.js';
import { setDeadline } from './deadlines.js';
import { compileWorld } from './world.js';
import { standing } from '../movement/reckoning.js';
import { instant, um } from '../units.js';
import { passingLoop } from '../testing/layout-parts.js';
import { twoTrains } from '../testing/stock-parts.js';
import { meet } from '../testing/timetable-parts.js';

const world = compileWorld(passingLoop(), twoTrains(), meet());
const fresh = () => createSession(world);

describe('the decision key', () => {
  it('leaves absolute times and evidence out', () => {
    const early = fresh();
    const late = fresh();
    late.now = 90_000;
    late.revision = 7;
    late.session.clock.since = 90_000;
    late.trains[0]!.identity.evidence = 'other words';
    late.sections[0]!.since = 12;
    expect(decisionKey(world, late)).toBe(decisionKey(world, early));
  });

  it('keeps the order of deadlines, not their times', () => {
    const [one, shifted, swapped] = [fresh(), fresh(), fresh()];
    setDeadline(one, 'hold-off', 0, 100);
    setDeadline(one, 'drive', 1, 200);
    setDeadline(shifted, 'hold-off', 0, 1100);
    setDeadline(shifted, 'drive', 1, 5200);
    setDeadline(swapped, 'hold-off', 0, 300);
    setDeadline(swapped, 'drive', 1, 200);
    expect(decisionKey(world, shifted)).toBe(decisionKey(world, one));
    expect(decisionKey(world, swapped)).not.toBe(decisionKey(world, one));
  });

  it('tells beliefs apart', () => {
    const known = fresh();
    const other = fresh();
    other.sections[0]!.belief = 'occupied';
    expect(decisionKey(world, other)).not.toBe(decisionKey(world, known));
  });

  it('tells apart whether a line-up has settled', () => {
    const [open, settled] = [fresh(), fresh()];
    open.session.phase = { kind: 'line-up', settled: false, resumed: false };
    settled.session.phase = { kind: 'line-up', settled: true, resumed: false };
    expect(decisionKey(world, settled)).not.toBe(decisionKey(world, open));
  });

  it('keeps of waiting who waits longer, not since when', () => {
    const [one, later, swapped] = [fresh(), fresh(), fresh()];
    const wait = (state: typeof one, first: number, second: number): void => {
      state.trains[0]!.waitingSince = first;
      state.trains[1]!.waitingSince = second;
    };
    wait(one, 100, 200);
    wait(later, 5000, 9000);
    wait(swapped, 200, 100);
    expect(decisionKey(world, later)).toBe(decisionKey(world, one));
    expect(decisionKey(world, swapped)).not.toBe(decisionKey(world, one));
  });

  it('keeps of dead reckoning which detected stretch a train may have reached', () => {
    const [here, near, far] = [fresh(), fresh(), fresh()];
    const reach = (state: typeof here, mm: number): void => {
      const train = state.trains[0]!;
      train.path[0]!.end = 3000;
      train.reckoning = standing({ low: um(0), high: um(mm * 1000) }, um(0), instant(0));
    };
    reach(here, 1400);
    reach(near, 1410);
    reach(far, 1600);
    expect(decisionKey(world, near)).toBe(decisionKey(world, here));
    expect(decisionKey(world, far)).not.toBe(decisionKey(world, here));
  });
});

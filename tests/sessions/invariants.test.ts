import { compileLayout, headingOf, type Effect } from '@blockbell/railway';
import {
  InvariantChecker,
  Rehearsal,
  ScriptedDispatcher,
  type StepObserver,
} from '@blockbell/rehearsal';
import type { Fault } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

const railway = exampleRailway('passing-loop');
/** Both trains are on their way then, physical ms. */
const UNDER_WAY = 60_000;
const END = 200_000;

/** What the checker finds when somebody meddles with the session behind its back. */
function brokenBy(meddle: StepObserver, faults: readonly Fault[] = []): InvariantChecker {
  const rehearsal = new Rehearsal({ ...railway, seed: 1, faults });
  rehearsal.observe(meddle);
  const checker = new InvariantChecker(rehearsal);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  while (rehearsal.now < END) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
  }
  return checker;
}

/** Meddles once, at the first step after both trains are under way of which `when` holds. */
function once(meddle: (...step: Parameters<StepObserver>) => boolean): StepObserver {
  let done = false;
  return (...step) => {
    if (!done && step[0].now >= UNDER_WAY) done = meddle(...step);
  };
}

const numbers = ({ broken }: InvariantChecker): number[] =>
  [...new Set(broken.map(({ invariant }) => invariant))].sort();

describe('the checker of the invariants', () => {
  it('finds nothing when nobody meddles', () => {
    expect(numbers(brokenBy(() => {}))).toEqual([]);
  });

  it('1 and 3: finds a train driven on until it touches another', () => {
    const checker = brokenBy(({ simulated, world, now }) => {
      if (now < UNDER_WAY) return;
      for (const { file, facingForward } of world.stock.trains[0]!.locomotives) {
        const { address } = file;
        simulated.command(now, { kind: 'set-speed', address, forward: facingForward, step: 126 });
      }
    });
    expect(numbers(checker)).toEqual(expect.arrayContaining([1, 3]));
  });

  it('2: finds a turnout thrown under a train', () => {
    const checker = brokenBy(
      once(({ simulated, world, now }) => {
        for (const { stretches } of simulated.truth.trains()) {
          for (const { element, from, to } of stretches) {
            const { drive } = world.layout.elements[element]!;
            const position = simulated.truth.drive(element)?.position;
            const other = drive?.positions.find((each) => each !== position);
            if (other === undefined || to - from < 10) continue;
            simulated.command(now, { kind: 'set-drive', element, position: other });
            return true;
          }
        }
        return false;
      }),
    );
    expect(numbers(checker)).toContain(2);
  });

  it('3: finds a train beyond its limit', () => {
    const checker = brokenBy(({ state }, _, { changes }) => {
      const train = state.trains[0]!;
      if (state.now < UNDER_WAY) return;
      train.limit = 0;
      changes.trains.add(0);
    });
    expect(numbers(checker)).toContain(3);
  });

  it('4: finds track freed under a train', () => {
    const checker = brokenBy(
      once(({ state }, _, { changes }) => {
        const { element } = state.trains[0]!.path[0]!;
        state.elements[element]!.holder = -1;
        changes.elements.add(element);
        return true;
      }),
    );
    expect(numbers(checker)).toContain(4);
  });

  it('4: finds track freed under a train and given to another in the same step', () => {
    const checker = brokenBy(
      once(({ state }, _, { changes }) => {
        const { element } = state.trains[0]!.path[0]!;
        state.elements[element]!.holder = 1;
        changes.elements.add(element);
        return true;
      }),
    );
    expect(checker.broken.map(({ text }) => text)).toContainEqual(
      expect.stringMatching(/was freed under/),
    );
  });

  it('5: finds a train that stands though nothing is in its way', () => {
    const checker = brokenBy(({ state }) => {
      if (state.now < UNDER_WAY) return;
      // What keeps it is hidden, and so is that it has departed.
      state.trains[1]!.held = true;
      if (state.trains[1]!.activity.kind === 'standing') state.trains[1]!.wait = null;
    });
    expect(numbers(checker)).toContain(5);
  });

  it('6: finds track held for a train that is not on it', () => {
    const checker = brokenBy(
      once(({ state }, _, { changes }) => {
        const free = state.elements.findIndex(({ holder }) => holder < 0);
        state.elements[free]!.holder = 0;
        changes.elements.add(free);
        return true;
      }),
    );
    expect(numbers(checker)).toContain(6);
  });

  it('7: finds a train told to run while the session stands', () => {
    const checker = brokenBy(({ state, world }, _, { effects }) => {
      if (state.session.phase.kind !== 'line-up') return;
      const { address } = world.stock.trains[0]!.locomotives[0]!.file;
      const run: Effect = {
        kind: 'device',
        command: { kind: 'set-speed', address, forward: true, step: 1 },
      };
      (effects as Effect[]).push(run);
    });
    expect(numbers(checker)).toContain(7);
  });

  it('excuses what no logic could prevent, and names its cause', () => {
    const onto = headingOf(compileLayout(railway.layout).elementByName.get('E1')!, 'a');
    const checker = brokenBy(() => {}, [
      { kind: 'hand-moved', at: UNDER_WAY / 2, train: 0, to: onto },
    ]);
    expect(numbers(checker)).toEqual([]);
    const excuses = checker.violations.map(({ excuse }) => excuse);
    expect(new Set(excuses)).toEqual(new Set(['hand-moved']));
  });
});

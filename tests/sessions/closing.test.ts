import { InvariantChecker, Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway, smallRailway, type Railway } from '../support/railways.js';
import { TrackGang } from '../support/track-gang.js';

/** The gang goes home here, physical ms; then every train must still finish. */
const HOME = 1_200_000;
const TIME_LIMIT = 9_000_000;

function worked(railway: Railway, seed: number) {
  const rehearsal = new Rehearsal({ ...railway, seed });
  const checker = new InvariantChecker(rehearsal);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const gang = new TrackGang(rehearsal, new Chance(seed));
  const { state } = rehearsal;
  const isDone = (): boolean =>
    state.session.phase.kind === 'running' &&
    state.trains.every(({ wait }) => wait?.kind === 'finished');
  for (let at = 1000; at <= TIME_LIMIT && !(at > HOME && isDone()); at += 1000) {
    rehearsal.runTo(at);
    dispatcher.look();
    if (state.session.phase.kind === 'running') gang.look(at >= HOME);
  }
  return {
    gang,
    broken: checker.broken.map(({ invariant, text }) => `${invariant}: ${text}`),
    unfinished: state.trains
      .filter(({ wait }) => wait?.kind !== 'finished')
      .map(({ wait }) => wait?.kind),
  };
}

const seeds = (from: number, count: number): number[] =>
  Array.from({ length: count }, (_, index) => from + index);

describe('track is closed for work and turnouts are thrown by hand all through a session', () => {
  const seen = { closings: 0, worked: 0, thrownUnderWays: 0 };

  it.each([
    ...seeds(1, 12).map((seed) => ['passing loop', seed] as const),
    ...seeds(21, 8).map((seed) => ['generated', seed] as const),
    ...seeds(41, 2).map((seed) => ['demo', seed] as const),
  ])(
    'on the %s with seed %i no train runs where work is done, and all finish when it is over',
    (where, seed) => {
      const railway =
        where === 'generated'
          ? smallRailway(new Chance(seed))
          : exampleRailway(where === 'demo' ? 'demo' : 'passing-loop');
      const { gang, broken, unfinished } = worked(railway, seed);
      expect({ run: gang.run, broken, unfinished }).toEqual({
        run: [],
        broken: [],
        unfinished: [],
      });
      seen.closings += gang.closings;
      seen.worked += gang.worked;
      seen.thrownUnderWays += gang.thrownUnderWays;
    },
    SESSION_TIMEOUT,
  );

  it('and much was closed, worked on and thrown', () => {
    expect(seen.closings).toBeGreaterThan(100);
    expect(seen.worked).toBeGreaterThan(1000);
    expect(seen.thrownUnderWays).toBeGreaterThan(20);
  });
});

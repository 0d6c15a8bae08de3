import { describe, expect, it } from 'vitest';
import type { Command } from '@blockbell/railway';
import { InvariantChecker, Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { Chance } from '../support/chance.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway } from '../support/railways.js';

/** People may do anything up to here, physical ms; then everything is given back to the timetable. */
const HANDS_OFF = 900_000;
const TIME_LIMIT = 6_000_000;

/** Something a person might do, sensible or not. */
function someCommand(chance: Chance, blocks: readonly number[], trains: number): Command {
  const train = chance.below(trains);
  switch (chance.below(7)) {
    case 0:
      return { kind: 'set-route', train, block: chance.pick(blocks) };
    case 1:
      return { kind: 'give-back-route', train };
    case 2:
      return { kind: 'turn-round', train };
    case 3:
      return { kind: 'take-in-hand', train, take: true };
    case 4:
      return { kind: 'drive', train, speed: chance.below(200) };
    case 5:
      return { kind: 'take-in-hand', train, take: false };
    default:
      return { kind: 'hold-train', train, hold: false };
  }
}

function meddledSession(
  name: 'demo' | 'passing-loop',
  seed: number,
): Rehearsal & { broken: string[] } {
  const rehearsal = new Rehearsal({ ...exampleRailway(name), seed });
  const checker = new InvariantChecker(rehearsal);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const chance = new Chance(seed);
  const { layout } = rehearsal.world;
  const blocks = layout.elements.filter(({ kind }) => kind === 'block').map(({ index }) => index);
  const { trains } = rehearsal.state;
  const isDone = (): boolean =>
    rehearsal.state.session.phase.kind === 'running' &&
    trains.every(({ wait }) => wait?.kind === 'finished');
  for (let at = 1000; at <= TIME_LIMIT && !isDone(); at += 1000) {
    rehearsal.runTo(at);
    dispatcher.look();
    if (rehearsal.state.session.phase.kind !== 'running') continue;
    if (at < HANDS_OFF && chance.below(4) === 0) {
      rehearsal.command('meddler', someCommand(chance, blocks, trains.length));
    }
    if (at < HANDS_OFF || at % 10_000 !== 0) continue;
    trains.forEach(({ held, handSpeed }, train) => {
      if (held) rehearsal.command('meddler', { kind: 'hold-train', train, hold: false });
      if (handSpeed !== null) {
        rehearsal.command('meddler', { kind: 'take-in-hand', train, take: false });
      }
    });
  }
  const broken = checker.broken.map(({ invariant, text }) => `${invariant}: ${text}`);
  return Object.assign(rehearsal, { broken });
}

describe('a session in which people meddle with everything', () => {
  // Such a session once sent a train into the buffers: its route was given back after it had turned round to leave.
  it.each([1, 2, 4])(
    'stays safe and still runs every service of the demo (seed %i)',
    (seed) => {
      const session = meddledSession('demo', seed);
      expect(session.broken).toEqual([]);
      expect(session.state.trains.filter(({ wait }) => wait?.kind !== 'finished')).toEqual([]);
    },
    SESSION_TIMEOUT,
  );

  it.each([1, 2, 3, 4, 5, 6, 7, 8])(
    'stays safe and still runs every service of the passing loop (seed %i)',
    (seed) => {
      const session = meddledSession('passing-loop', seed);
      expect(session.broken).toEqual([]);
      expect(session.state.trains.filter(({ wait }) => wait?.kind !== 'finished')).toEqual([]);
    },
    SESSION_TIMEOUT,
  );

  it('leaves the right way after its route was given back when it had turned round for it', () => {
    const rehearsal = new Rehearsal({ ...exampleRailway('passing-loop'), seed: 1 });
    const checker = new InvariantChecker(rehearsal);
    const dispatcher = new ScriptedDispatcher(rehearsal);
    const { state } = rehearsal;
    let at = 0;
    const pass = (ms: number): void => {
      at += ms;
      rehearsal.runTo(at);
      if (at % 1000 === 0) dispatcher.look();
    };
    while (state.counts.reversals === 0) pass(100);
    const train = state.trains.findIndex(({ frontLeads }) => !frontLeads);
    expect(rehearsal.command('dispatcher', { kind: 'give-back-route', train })).toBeNull();
    // It had just been told to run: its way stays locked until it certainly stands.
    for (let left = 100; left > 0 && state.trains[train]!.path.length > 1; left--) pass(100);
    expect(state.trains[train]!.path).toHaveLength(1);
    pass(1000 - (at % 1000));
    for (let left = 30; left > 0; left--) pass(1000);
    rehearsal.command('dispatcher', { kind: 'hold-train', train, hold: false });
    for (let left = TIME_LIMIT / 1000; left > 0; left--) {
      if (state.trains.every(({ wait }) => wait?.kind === 'finished')) break;
      pass(1000);
    }
    expect(checker.broken).toEqual([]);
    expect(state.trains.filter(({ wait }) => wait?.kind !== 'finished')).toEqual([]);
  });
});

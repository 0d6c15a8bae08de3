import {
  InvariantChecker,
  isWorkDone,
  Rehearsal,
  ScriptedDispatcher,
  type RehearsalSetup,
} from '@blockbell/rehearsal';
import type { Command } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway, smallRailway } from '../support/railways.js';

/** Less far and with less work than usual. */
const QUICK = { horizon: 120_000, effort: 100_000 };
const LONGEST = 9_000_000;

/** A wish at random; most are refused. */
function wishOf({ world, state }: Rehearsal, chance: Chance): Command {
  const count = state.trains.length;
  const train = chance.below(count);
  const work = world.timetable.workings[train]?.services ?? [];
  const at = chance.below(Math.max(1, work.length));
  const service = work[at] ?? 0;
  const calls = world.timetable.services[service]!.calls;
  const call = chance.below(calls.length);
  const tracks = calls[call]!.tracks;
  switch (chance.below(8)) {
    case 0:
      return { kind: 'cancel-services', train, service, through: work[at + 1] ?? service };
    case 1:
      return { kind: 'restore-services', train, service };
    case 2:
    case 3:
    case 4:
      return { kind: 'go-first', train, before: chance.below(count), first: chance.below(5) > 0 };
    default: {
      const track = tracks[chance.below(Math.max(1, tracks.length))]?.name ?? null;
      return { kind: 'choose-track', train, service, call, track };
    }
  }
}

function wished(setup: RehearsalSetup) {
  const rehearsal = new Rehearsal(setup);
  const checker = new InvariantChecker(rehearsal);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const chance = new Chance(setup.seed);
  let taken = 0;
  while (rehearsal.now < LONGEST && !isWorkDone(rehearsal.state)) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
    if (rehearsal.now % 4000 !== 0) continue;
    if (rehearsal.command('Ada', wishOf(rehearsal, chance)) === null) taken++;
  }
  return { rehearsal, taken, broken: checker.broken.map(({ text }) => text) };
}

/** Every arrival's delay is the sum of its parts, whatever was left out before it. */
function expectExactDelays({ world, state }: Rehearsal): void {
  for (const { calls } of state.trains) {
    for (const { service, call, arrived, delay } of calls) {
      const booked = world.timetable.services[service]!.calls[call]!.arrive;
      if (booked === null || arrived === null || delay === null) continue;
      const waited = delay.lost.reduce((sum, { time }) => sum + time, 0);
      const sum = delay.entry + delay.own + waited - delay.recovered;
      expect(sum).toBe(Math.round(arrived) - booked);
    }
  }
}

describe('whatever a dispatcher wishes all through a session', () => {
  it.each([
    ['the demo, seed 1', { ...exampleRailway('demo'), seed: 1 }],
    [
      'the passing loop with plans, seed 2',
      { ...exampleRailway('passing-loop'), seed: 2, planning: QUICK },
    ],
    ['a generated railway, seed 3', { ...smallRailway(new Chance(3)), seed: 3 }],
    [
      'the passing loop, started again twice, seed 4',
      {
        ...exampleRailway('passing-loop'),
        seed: 4,
        restarts: [
          { at: 200_000, lost: 100 },
          { at: 400_000, lost: 300 },
        ],
      },
    ],
  ] as const)(
    'no invariant is broken, all trains finish and every delay adds up: %s',
    (_, setup) => {
      const { rehearsal, taken, broken } = wished(setup);
      expect(broken).toEqual([]);
      expect(rehearsal.state.trains.map(({ wait }) => wait?.kind)).toEqual(
        rehearsal.state.trains.map(({ activity }) =>
          activity.kind === 'absent' ? undefined : 'finished',
        ),
      );
      expect(taken).toBeGreaterThan(2);
      expectExactDelays(rehearsal);
    },
    SESSION_TIMEOUT,
  );
});

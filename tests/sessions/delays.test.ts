import {
  isWorkDone,
  Rehearsal,
  ScriptedDispatcher,
  type RehearsalSetup,
} from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { faultCases } from '../support/fault-cases.js';
import { exampleRailway, smallRailway } from '../support/railways.js';
import { keptAccounts, rebuiltAccounts, WaitWatch } from '../support/rebuilt-delays.js';

/** Less far and with less work than usual. */
const QUICK = { horizon: 120_000, effort: 100_000 };
const LONGEST = 6_000_000;

/** A session until its work is done, in which a person holds trains now and then and lets them go again. */
function heldSession(setup: RehearsalSetup, until: number, often: number) {
  const rehearsal = new Rehearsal(setup);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const watch = new WaitWatch(rehearsal);
  const chance = new Chance(setup.seed);
  const { state } = rehearsal;
  while (rehearsal.now < until && !isWorkDone(state)) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
    if (rehearsal.now % 10_000 !== 0) continue;
    state.trains.forEach(({ held }, train) => {
      if (chance.below(held ? 12 : often) === 0)
        rehearsal.command('Ada', { kind: 'hold-train', train, hold: !held });
    });
  }
  return { rehearsal, watch };
}

/** What all arrivals together were late for, fast ms. */
const seen = { arrivals: 0, late: 0, knockOn: 0, own: 0, entry: 0, recovered: 0 };

/** Every arrival's delay is the sum of its parts to the millisecond, none below zero, and none blamed on the train itself. */
function expectExact({ world, state }: Rehearsal): void {
  state.trains.forEach(({ calls }, train) => {
    for (const { service, call, arrived, delay } of calls) {
      const booked = world.timetable.services[service]!.calls[call]!.arrive;
      if (booked === null || arrived === null) continue;
      const { entry, own, lost, recovered } = delay!;
      const waited = lost.reduce((sum, { time }) => sum + time, 0);
      const late = Math.round(arrived) - booked;
      expect(entry + own + waited - recovered).toBe(late);
      for (const part of [entry, own, recovered, ...lost.map(({ time }) => time)]) {
        expect(Number.isSafeInteger(part)).toBe(true);
        expect(part).toBeGreaterThanOrEqual(0);
      }
      expect(lost.map((it) => it.train)).not.toContain(train);
      seen.arrivals++;
      seen.late += Number(late > 0);
      seen.entry += entry;
      seen.own += own;
      seen.recovered += recovered;
      for (const { train: by, time } of lost) seen[by >= 0 ? 'knockOn' : 'own'] += time;
    }
  });
}

const railwayOf = (seed: number): RehearsalSetup => ({ ...smallRailway(new Chance(seed)), seed });

describe('the delay of every arrival is entry + own + waits − recovered, to the millisecond', () => {
  it.each<[string, RehearsalSetup, number]>([
    ['the demo', { ...exampleRailway('demo'), seed: 1 }, 300_000],
    ['the demo with plans', { ...exampleRailway('demo'), seed: 2, planning: QUICK }, 200_000],
    ...[3, 4, 5, 6].map((seed): [string, RehearsalSetup, number] => [
      `the passing loop, seed ${seed}`,
      { ...exampleRailway('passing-loop'), seed },
      LONGEST,
    ]),
    ...[11, 12, 13].map((seed): [string, RehearsalSetup, number] => [
      `a generated railway, seed ${seed}`,
      seed % 2 === 0 ? { ...railwayOf(seed), planning: QUICK } : railwayOf(seed),
      LONGEST,
    ]),
    ...(['stall', 'stuck-drive', 'dropout'] as const).flatMap((kind) =>
      faultCases(kind)
        .filter((_, at) => at >= 10 && at % 40 === 11)
        .map(([name, { railway, seed, faults }]): [string, RehearsalSetup, number] => [
          name,
          { ...railway, seed, faults },
          LONGEST,
        ]),
    ),
  ])(
    'on %s, and is the same worked out anew',
    (_, setup, until) => {
      const { rehearsal, watch } = heldSession(setup, until, until < LONGEST ? 20 : 8);
      expectExact(rehearsal);
      const { world, state } = rehearsal;
      expect(keptAccounts(world, state)).toEqual(rebuiltAccounts(world, state, watch));
    },
    SESSION_TIMEOUT,
  );

  it('and much was late for every reason', () => {
    expect(seen.arrivals).toBeGreaterThan(100);
    expect(seen.late).toBeGreaterThan(30);
    for (const part of [seen.knockOn, seen.own, seen.entry, seen.recovered])
      expect(part).toBeGreaterThan(600_000);
  });
});

import { callBefore, instantOf } from '@blockbell/railway';
import { passSeconds } from '@blockbell/rehearsal';
import { expect, it } from 'vitest';
import { filesOf, rehearsalOf } from '../testing/example-rehearsal.js';
import { lookAt } from './look.js';

it('takes a hold to last half a minute more, and one that has kept a train for over a minute as long again', () => {
  const rehearsal = rehearsalOf(filesOf('passing-loop'), 1);
  const seconds = passSeconds(rehearsal, Infinity);
  while (!rehearsal.state.session.clock.running) seconds.next();
  const { world } = rehearsal;
  const train = world.stock.trainByName.get('T3')!;
  const { depart } = callBefore(world, train, 0)!;
  const booked = instantOf(rehearsal.state.session.clock, depart!)!;
  const keptAt = (now: number): number => {
    rehearsal.runTo(now);
    return lookAt(world, rehearsal.state, now).trains[train]!.kept;
  };
  expect(keptAt(booked - 20_000)).toBe(0);
  expect(rehearsal.command('Ada', { kind: 'hold-train', train, hold: true })).toBeNull();
  // Before its booked time the hold keeps it from nothing.
  expect([-10_000, 10_000, 60_000].map((after) => keptAt(booked + after))).toEqual([
    30_000, 30_000, 30_000,
  ]);
  expect(keptAt(booked + 90_000)).toBe(90_000);
});

import { exampleFiles } from '@blockbell/examples';
import { callBefore, instantOf, type compileWorld } from '@blockbell/railway';
import { Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { expect, it } from 'vitest';
import { lookAt } from './look.js';

type Files = Parameters<typeof compileWorld>;

it('takes a hold to last half a minute more, and one that has kept a train for over a minute as long again', () => {
  const { layout, stock, timetable } = exampleFiles('passing-loop');
  const files = [layout, stock, timetable].map((text) => JSON.parse(text)) as Files;
  const rehearsal = new Rehearsal({
    layout: files[0],
    stock: files[1],
    timetable: files[2],
    seed: 1,
  });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  while (!rehearsal.state.session.clock.running) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
  }
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

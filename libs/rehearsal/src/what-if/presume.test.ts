import { exampleFiles } from '@blockbell/examples';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { Rehearsal } from '../rehearsal.js';
import { ScriptedDispatcher } from '../scripted-dispatcher.js';
import { presumedLayout } from './presume.js';

const text = exampleFiles('demo');
const given = JSON.parse(text.stock) as StockFile;
/** Locomotives that run exactly as measured, so that a train is where it is reckoned to be. */
const stock = {
  ...given,
  locomotives: given.locomotives.map((it) => ({ ...it, spread: { speed: 0, braking: 0 } })),
};
const layout = JSON.parse(text.layout) as LayoutFile;
const timetable = JSON.parse(text.timetable) as TimetableFile;

describe('a layout as the engine believes it to be', () => {
  const rehearsal = new Rehearsal({ layout, stock, timetable, seed: 6 });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const runTo = (at: number): void => {
    while (rehearsal.now < at) {
      rehearsal.runTo(rehearsal.now + 1000);
      dispatcher.look();
    }
  };

  it.each([200_000, 330_000, 470_000, 640_000])(
    'is the layout as it is, trains under way included, after %i ms',
    (at) => {
      runTo(at);
      const { world, state, simulated } = rehearsal;
      // What the engine believes holds at its own moment.
      simulated.advance(rehearsal.now);
      const presumed = presumedLayout(world, { ...state, now: rehearsal.now }, 1);
      let moving = 0;
      world.stock.trains.forEach((_, train) => {
        const [is, seems] = [simulated.truth.train(train), presumed.truth.train(train)];
        if (is === null || seems === null) return expect(seems).toBe(is);
        expect(Math.abs(seems.speed - is.speed)).toBeLessThan(2);
        const lengthUnder = ({ stretches }: typeof is): number =>
          stretches.reduce((sum, { from, to }) => sum + to - from, 0);
        expect(lengthUnder(seems)).toBeCloseTo(lengthUnder(is), 3);
        const isNear =
          seems.front.element === is.front.element &&
          Math.abs(seems.front.offset - is.front.offset) < 40;
        const isBeside = seems.stretches.some(({ element }) => element === is.front.element);
        expect({ train, isNear: isNear || isBeside, towards: seems.towards }).toEqual({
          train,
          isNear: true,
          towards: isNear ? is.towards : seems.towards,
        });
        moving += Number(is.speed !== 0);
      });
      expect(moving).toBeGreaterThan(0);
      world.layout.elements.forEach(({ drive }, element) => {
        if (drive === null || state.elements[element]!.position === null) return;
        const { position, moving: thrown } = simulated.truth.drive(element)!;
        expect(presumed.truth.drive(element)!.position).toBe(thrown ?? position);
      });
    },
  );

  it('does not share anything with the engine’s memory', () => {
    const { world, state } = rehearsal;
    const before = JSON.stringify(state);
    presumedLayout(world, state, 1).advance(state.now + 60_000);
    expect(JSON.stringify(state)).toBe(before);
  });
});

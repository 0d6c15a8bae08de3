import { compileLayout, compileStock } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { circle, crossroads, passingLoop } from '../test-support/layouts.js';
import { openRig } from '../test-support/rig.js';
import type { RigSetup } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';

const stock = compileStock(
  stockOf(
    [train(1, [{ car: 'coach', count: 1 }]), train(2, [{ car: 'coach', count: 1 }])],
    [locomotive(1), locomotive(2)],
  ),
);
const open = (file: Parameters<typeof compileLayout>[0], places: RigSetup['places']) =>
  openRig({ layout: compileLayout(file), stock, places });

describe('trains that touch', () => {
  it('one running into a standing one: written down once, at the place and time, both stand', () => {
    const rig = open(circle(), [
      ['west', 'b'],
      ['north', 'b'],
    ]);
    rig.run(1, 50);
    rig.until(60_000);
    expect(rig.incidents()).toEqual(['contact']);
    const [incident] = rig.simulated.truth.incidents;
    // From the front at 1000 of 1100 to the tail at 800 of the next block: 900 mm; 100 mm/s are reached after 83 1/3 mm.
    const expected = 200 + (100 / 60 + (900 - 100 ** 2 / 120) / 100) * 1000;
    expect(incident!.at).toBe(Math.ceil(expected));
    expect(incident).toMatchObject({ element: rig.element('north'), trains: [0, 1], causes: [] });
    const [first, second] = rig.simulated.truth.trains();
    expect(first!.speed).toBe(0);
    expect(first!.front.offset).toBeCloseTo(second!.rear.offset, 6);
  });

  it('two meeting head on, as soon as their ends meet', () => {
    const rig = open(passingLoop(), [
      ['west', 'b'],
      ['main', 'a'],
    ]);
    rig.run(1, 60);
    rig.run(2, 90);
    rig.until(30_000);
    expect(rig.incidents()).toEqual(['contact']);
    const [first, second] = rig.simulated.truth.trains();
    expect(first!.front.element).toBe(second!.front.element);
    expect(first!.front.offset).toBeCloseTo(second!.front.offset, 6);
  });

  it('the faster behind catching up with the slower', () => {
    const rig = open(circle(), [
      ['west', 'b'],
      ['north', 'b'],
    ]);
    rig.run(2, 20);
    rig.run(1, 60);
    rig.until(20_000);
    expect(rig.incidents()[0]).toBe('contact');
    expect(rig.simulated.truth.incidents[0]!.trains).toEqual([0, 1]);
  });

  it('running one behind the other at one speed they never touch', () => {
    const rig = open(circle(), [
      ['west', 'b'],
      ['north', 'b'],
    ]);
    rig.run(2, 60);
    rig.run(1, 60);
    rig.until(120_000);
    expect(rig.incidents()).toEqual([]);
  });

  it('stay apart once they back off, and can touch again', () => {
    const rig = open(circle(), [
      ['west', 'b'],
      ['north', 'b'],
    ]);
    rig.run(1, 50);
    rig.until(20_000);
    rig.run(1, 50, false);
    rig.until(22_000);
    expect(rig.simulated.truth.train(0)!.speed).toBeLessThan(0);
    rig.run(1, 50);
    rig.until(40_000);
    expect(rig.incidents()).toEqual(['contact', 'contact']);
  });

  it('the one that pushes stays where it is until it is told otherwise, even when the other leaves', () => {
    const rig = open(circle(), [
      ['west', 'b'],
      ['north', 'b'],
    ]);
    rig.run(1, 50);
    rig.until(20_000);
    rig.run(2, 80);
    rig.until(24_000);
    expect(rig.simulated.truth.train(0)!.speed).toBe(0);
    expect(rig.simulated.truth.train(1)!.speed).toBeGreaterThan(0);
    rig.run(1, 0);
    rig.run(1, 20);
    rig.until(26_000);
    expect(rig.simulated.truth.train(0)!.speed).toBeGreaterThan(0);
    expect(rig.incidents()).toEqual(['contact']);
  });
});

describe('trains that foul one another', () => {
  it('one on the crossing, one closing in on the other track: at the fouling distance', () => {
    const rig = open(crossroads(), [
      ['west', 'b'],
      ['south', 'b'],
    ]);
    rig.run(1, 60);
    rig.until(4000);
    expect(rig.simulated.truth.section(rig.section('crossing')).occupied).toBe(true);
    rig.run(1, 0);
    rig.until(5000);
    rig.run(2, 20);
    rig.until(20_000);
    expect(rig.incidents()).toEqual(['contact']);
    const second = rig.simulated.truth.train(1)!;
    expect(second.front).toMatchObject({ element: rig.element('south') });
    expect(second.front.offset).toBeCloseTo(1500 - 70, 6);
  });

  it('one after the other over the crossing: nothing happens', () => {
    const rig = open(crossroads(), [
      ['west', 'b'],
      ['south', 'b'],
    ]);
    rig.run(1, 60);
    rig.until(9000);
    rig.run(1, 0);
    rig.run(2, 60);
    rig.until(15_000);
    expect(rig.simulated.truth.train(1)!.front.element).toBe(rig.element('north'));
    expect(rig.incidents()).toEqual([]);
  });

  it('a tail left within the fouling point of a turnout meets a train over its other leg', () => {
    const rig = open(passingLoop(), [
      ['siding', 'b'],
      ['west', 'b'],
    ]);
    const tail = () => rig.simulated.truth.train(0)!.rear.offset;
    for (const [step, until] of [
      [60, 250],
      [15, 70],
      [0, 70],
    ] as const) {
      rig.run(1, step, false);
      while (tail() > until) rig.until(rig.simulated.truth.now + 10);
    }
    rig.until(30_000);
    expect(rig.simulated.truth.train(0)!.rear.offset).toBeLessThan(80);
    expect(rig.simulated.truth.train(0)!.rear.element).toBe(rig.element('siding'));
    rig.run(2, 60);
    rig.until(40_000);
    expect(rig.incidents()).toEqual(['contact']);
    expect(rig.simulated.truth.incidents[0]!.element).toBe(rig.element('points-w'));
  });

  it('a tail clear of it does not', () => {
    const rig = open(passingLoop(), [
      ['siding', 'b'],
      ['west', 'b'],
    ]);
    rig.run(2, 60);
    rig.until(15_000);
    expect(rig.simulated.truth.train(1)!.front.element).toBe(rig.element('main'));
    expect(rig.incidents()).toEqual([]);
  });
});

describe('the end of the track', () => {
  it('is struck once; the train stands against it and may go back', () => {
    const rig = open(passingLoop(), [['west', 'a'], null]);
    rig.run(1, 60);
    rig.until(15_000);
    expect(rig.incidents()).toEqual(['buffer-struck']);
    expect(rig.simulated.truth.train(0)).toMatchObject({ speed: 0, front: { offset: 0 } });
    rig.run(1, 60, false);
    rig.until(20_000);
    expect(rig.simulated.truth.train(0)!.speed).toBeLessThan(0);
    expect(rig.incidents()).toEqual(['buffer-struck']);
  });
});

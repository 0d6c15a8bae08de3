import { compileLayout, compileStock } from '@blockbell/railway';
import { mm } from '@blockbell/railway/track';
import { describe, expect, it } from 'vitest';
import { passingLoop } from '../test-support/layouts.js';
import { openRig } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';

const layout = compileLayout(passingLoop());
const stockWith = (runOn: number) =>
  compileStock(
    stockOf([train(1, [{ car: 'coach', count: 2 }])], [locomotive(1, { runOn: mm(runOn) })]),
  );
const open = (runOn = 0, powered = true) =>
  openRig({ layout, stock: stockWith(runOn), places: [['west', 'b']], powered });
const frontOf = (rig: ReturnType<typeof open>): number =>
  rig.simulated.truth.train(0)!.front.offset;

describe('power districts', () => {
  it('on: first the district, then the state of each of its sections and its decoders within 100 ms', () => {
    const rig = open(0, false);
    rig.until(1000);
    const before = rig.said.length;
    rig.power(true, 'first');
    rig.until(5000);
    const said = rig.said.slice(before).map(({ at, event }) => ({ at, ...event }));
    expect(said[0]).toMatchObject({ kind: 'power', district: 0, state: 'on' });
    expect(said.at(-1)!.at).toBeLessThanOrEqual(1100);
    const fed = layout.sections.filter(({ district }) => district === 0);
    const told = rig.events('section');
    expect(told.map(({ section }) => section).sort((a, b) => a - b)).toEqual(
      fed.map(({ index }) => index),
    );
    expect(told.filter(({ occupied }) => occupied).map(({ section }) => section)).toEqual([
      rig.section('west-2'),
    ]);
    expect(rig.reports('west-2').map((report) => report[1])).toEqual([[1]]);
  });

  it('off: detectors fall silent with what they still had to say, a train without stored energy stops dead', () => {
    const rig = open();
    rig.run(1, 126);
    rig.until(4000);
    const before = rig.said.length;
    rig.power(false, 'first');
    rig.until(20_000);
    expect(rig.said.slice(before).map(({ event }) => event)).toEqual([
      { kind: 'power', district: 0, state: 'off' },
    ]);
    expect(rig.simulated.truth.train(0)!.speed).toBe(0);
  });

  it.each([40, 120, 250])(
    'off: with stored energy it runs on its %i mm, braking evenly',
    (runOn) => {
      const rig = open(runOn);
      rig.run(1, 60);
      rig.until(6000);
      const [speed, place] = [rig.simulated.truth.train(0)!.speed, frontOf(rig)];
      expect(speed).toBeCloseTo(120, 6);
      rig.power(false);
      const standing = (2 * runOn) / speed;
      rig.until(6000 + Math.floor(standing * 500));
      expect(rig.simulated.truth.train(0)!.speed).toBeCloseTo(speed / 2, 0);
      rig.until(20_000);
      expect(frontOf(rig) - place).toBeCloseTo(runOn, 6);
      expect(rig.simulated.truth.train(0)!.speed).toBe(0);
    },
  );

  it('off: a train that brakes already does not run further for its stored energy', () => {
    const rig = open(400);
    rig.run(1, 60);
    rig.until(6000);
    const place = frontOf(rig);
    rig.run(1, 0);
    rig.until(6500);
    rig.power(false);
    rig.until(20_000);
    expect(frontOf(rig) - place).toBeCloseTo((120 * 120) / (2 * 80), 6);
  });

  it('on again: the last command still goes out, so the train starts if it was never told to stop', () => {
    const rig = open();
    rig.run(1, 60);
    rig.until(3000);
    rig.power(false);
    rig.until(4000);
    rig.power(true);
    rig.until(8000);
    expect(rig.simulated.truth.train(0)!.speed).toBeCloseTo(120, 6);
    rig.power(false);
    rig.until(9000);
    rig.run(1, 0);
    rig.power(true);
    rig.until(12_000);
    expect(rig.simulated.truth.train(0)!.speed).toBe(0);
  });

  it('is that of the leading locomotive: at the border of a dead district it stops, its cars still in the fed one', () => {
    const rig = open();
    rig.power(false, 'second');
    rig.run(1, 80);
    rig.until(60_000);
    const { front, rear, speed } = rig.simulated.truth.train(0)!;
    expect(speed).toBe(0);
    expect(front.element).toBe(rig.element('east'));
    expect(rear.element).toBe(rig.element('main'));
    expect(front.offset).toBe(0);
  });

  it('commanded on when on, it says so again', () => {
    const rig = open();
    rig.power(true, 'first');
    rig.until(1000);
    expect(rig.events('power').map(({ state }) => state)).toEqual(['on', 'on', 'on']);
  });
});

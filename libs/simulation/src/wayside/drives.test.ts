import { compileLayout, compileStock } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { passingLoop, reversingLoop } from '../test-support/layouts.js';
import { openRig } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';

const layout = compileLayout(passingLoop());
const stock = compileStock(stockOf([train(1, [{ car: 'coach', count: 2 }])], [locomotive(1)]));
const THROW_TIME = 600;

const open = (seed = 1) => openRig({ layout, stock, places: [['west', 'b']], seed });

describe('drives', () => {
  it('tell that they move, then where they lie, within the throw time', () => {
    const taken = new Set<number>();
    for (let seed = 0; seed < 40; seed += 1) {
      const rig = open(seed);
      rig.throwTo('points-w', 'diverging');
      rig.until(200 + THROW_TIME);
      const told = rig.events('drive').filter(({ at }) => at > 200);
      expect(told.map(({ position }) => position)).toEqual([null, 'diverging']);
      expect(told[0]!.at).toBeLessThanOrEqual(220);
      expect(told[1]!.at).toBeLessThanOrEqual(200 + THROW_TIME);
      expect(rig.simulated.truth.drive(rig.element('points-w'))).toEqual({
        position: 'diverging',
        moving: null,
      });
      taken.add(told[1]!.at);
    }
    expect(taken.size).toBeGreaterThan(20);
  });

  it('move all the same without feedback, but tell nothing', () => {
    const rig = open();
    const points = rig.element('points-e');
    rig.throwTo('points-e', 'diverging');
    expect(rig.simulated.truth.drive(points)).toEqual({
      position: 'straight',
      moving: 'diverging',
    });
    rig.until(200 + THROW_TIME);
    expect(rig.simulated.truth.drive(points)!.position).toBe('diverging');
    expect(rig.events('drive').some(({ element }) => element === points)).toBe(false);
  });

  it('confirm a position they already have without moving', () => {
    const rig = open();
    rig.throwTo('points-w', 'straight');
    rig.until(1000);
    expect(
      rig
        .events('drive')
        .filter(({ at }) => at > 200)
        .map(({ position }) => position),
    ).toEqual(['straight']);
  });

  it('turn back on the way when told so, and tell only where they end', () => {
    const rig = open();
    rig.throwTo('points-w', 'diverging');
    rig.until(210);
    rig.throwTo('points-w', 'straight');
    rig.until(2000);
    const told = rig
      .events('drive')
      .filter(({ at }) => at > 200)
      .map(({ position }) => position);
    expect(told.at(-1)).toBe('straight');
    expect(told).not.toContain('diverging');
  });

  it('send a train over the leg they lie for', () => {
    const rig = open();
    rig.throwTo('points-w', 'diverging');
    rig.until(1000);
    rig.run(1, 80);
    rig.until(9000);
    expect(rig.edges('siding-1').at(-1)![1]).toBe(true);
    expect(rig.incidents()).toEqual([]);
  });
});

describe('what must not happen at a drive is written down', () => {
  it('trailing against its position', () => {
    const rig = openRig({ layout, stock, places: [['siding', 'a']] });
    rig.run(1, 80);
    rig.until(8000);
    expect(rig.incidents()).toEqual(['run-through']);
    const [incident] = rig.simulated.truth.incidents;
    expect(incident).toMatchObject({ element: rig.element('points-w'), trains: [0], causes: [] });
    expect(rig.simulated.truth.train(0)!.front.element).toBe(rig.element('west'));
  });

  it('entered while it moves', () => {
    const rig = open();
    rig.run(1, 126);
    rig.until(2000);
    const { front } = rig.simulated.truth.train(0)!;
    expect(front.element).toBe(rig.element('west'));
    rig.throwTo('points-w', 'diverging');
    rig.until(3000);
    expect(rig.incidents()).toEqual(['moved-under', 'run-through']);
    expect(rig.simulated.truth.incidents[0]!.detail).toContain('just before');
  });

  it('moved under a train, but not while one stands clear, near as it may be', () => {
    const rig = open();
    rig.throwTo('points-w', 'diverging');
    rig.until(1000);
    rig.throwTo('points-w', 'straight');
    rig.until(2000);
    expect(rig.incidents()).toEqual([]);
    rig.run(1, 40);
    rig.until(5500);
    expect(rig.simulated.truth.section(rig.section('points-w')).occupied).toBe(true);
    rig.throwTo('points-w', 'diverging');
    expect(rig.incidents()).toEqual(['moved-under']);
  });
});

describe('a reversing section', () => {
  const loop = compileLayout(reversingLoop());
  const openLoop = () => openRig({ layout: loop, stock, places: [['lead', 'b']] });

  it('lets a train through whose polarity is matched at each gap', () => {
    const rig = openLoop();
    rig.run(1, 126);
    rig.until(12_000);
    expect(rig.simulated.truth.train(0)!.stretches.map(({ element }) => element)).toEqual([
      rig.element('loop'),
    ]);
    rig.throwTo('polarity', 'reversed');
    rig.throwTo('points', 'diverging');
    rig.until(45_000);
    expect(rig.simulated.truth.train(0)).toMatchObject({
      towards: 'a',
      front: { element: rig.element('lead') },
    });
    expect(rig.incidents()).toEqual(['buffer-struck']);
    expect(rig.events('power').map(({ state }) => state)).toEqual(['on', 'on']);
  });

  it('trips its district at a gap of unlike polarity, and again until it is matched', () => {
    const rig = openLoop();
    rig.throwTo('polarity', 'reversed');
    rig.run(1, 80);
    rig.until(10_000);
    expect(rig.incidents()).toEqual(['wrong-polarity']);
    expect(rig.simulated.truth.powered(1)).toBe(false);
    rig.run(1, 0);
    rig.power(true, 'second');
    rig.until(11_000);
    rig.throwTo('polarity', 'normal');
    rig.until(12_000);
    rig.power(true, 'second');
    rig.until(13_000);
    expect(
      rig
        .events('power')
        .filter(({ district }) => district === 1)
        .map(({ state }) => state),
    ).toEqual(['on', 'short', 'short', 'on']);
  });

  it('counts a polarity changed under a bridging train as moved under it', () => {
    const rig = openLoop();
    rig.run(1, 80);
    rig.until(4000);
    const ends = rig.simulated.truth.train(0)!.stretches.map(({ element }) => element);
    expect(ends).toContain(rig.element('loop'));
    expect(ends).toContain(rig.element('points'));
    rig.throwTo('polarity', 'reversed');
    expect(rig.incidents()).toEqual(['moved-under']);
  });
});

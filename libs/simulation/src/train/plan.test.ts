import { compileLayout, compileStock } from '@blockbell/railway';
import { mm, mmPerS, mmPerS2 } from '@blockbell/railway/track';
import type { LocomotiveFile, TrainFile } from '@blockbell/railway/track';
import { describe, expect, it } from 'vitest';
import { circle } from '../test-support/layouts.js';
import { openRig } from '../test-support/rig.js';
import type { Rig } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';

const layout = compileLayout(circle());

const openWith = (
  trains: readonly TrainFile[],
  locomotives: readonly LocomotiveFile[],
  seed = 1,
): Rig =>
  openRig({
    layout,
    stock: compileStock(stockOf(trains, locomotives)),
    places: [['north', 'b']],
    seed,
  });
const speedOf = (rig: Rig): number => rig.simulated.truth.train(0)!.speed;
/** Distance run since the start, front first, over as many rounds as it may be. */
const travelled = (rig: Rig): number => {
  const [body] = rig.simulated.state.bodies;
  const seconds = (rig.simulated.truth.now - body!.motion.since) / 1000;
  return body!.motion.front + body!.motion.speed * seconds;
};

const H0 = 87;
const toModel = (kmh: number): number => (kmh * 1_000_000) / 3600 / H0;

/** km/h, m/s² → metres of braking distance: published examples of v²/2b, here in 1:87. */
const BRAKING = [
  [160, 0.5, 1975.31],
  [120, 0.5556, 999.92],
  [100, 0.5, 771.6],
  [60, 0.2, 694.44],
] as const;

describe('driving', () => {
  it.each(BRAKING)(
    'stops from %i km/h at %f m/s² within the published distance, in scale',
    (kmh, rate, metres) => {
      const top = mmPerS(toModel(kmh));
      const table = [{ step: 126, speed: top }];
      const engine = locomotive(1, {
        speedTable: { forward: table, reverse: table },
        acceleration: mmPerS2(400),
        braking: mmPerS2((rate * 1000) / H0),
      });
      const rig = openWith([train(1)], [engine]);
      rig.run(1, 126);
      rig.until(10_000);
      expect(speedOf(rig)).toBe(top);
      const began = travelled(rig);
      rig.run(1, 0);
      rig.until(200_000);
      expect(speedOf(rig)).toBe(0);
      // Printed to the centimetre of the prototype.
      expect((travelled(rig) - began) * H0).toBeCloseTo(metres * 1000, -2);
    },
  );

  it('follows the table of the direction it runs in, and the way its locomotive faces', () => {
    const forward = openWith([train(1)], [locomotive(1)]);
    forward.run(1, 76);
    forward.until(8000);
    expect(speedOf(forward)).toBeCloseTo(152, 9);
    const back = openWith([train(1)], [locomotive(1)]);
    back.run(1, 76, false);
    back.until(8000);
    expect(speedOf(back)).toBeCloseTo(-122, 9);
    const turned: TrainFile = {
      ...train(1),
      vehicles: [{ locomotive: locomotive(1).id, facing: 'backward' }],
    };
    const facing = openWith([turned], [locomotive(1)]);
    facing.run(1, 76, false);
    facing.until(8000);
    expect(speedOf(facing)).toBeCloseTo(122, 9);
  });

  it('reverses by way of standing', () => {
    const rig = openWith([train(1)], [locomotive(1)]);
    rig.run(1, 51);
    rig.until(5000);
    expect(speedOf(rig)).toBeCloseTo(102, 9);
    rig.run(1, 26, false);
    rig.until(5000 + 1275);
    expect(speedOf(rig)).toBeCloseTo(0, 9);
    rig.until(8000);
    expect(speedOf(rig)).toBeCloseTo(-42, 9);
  });

  it('deviates by no more than its measured spread, each locomotive in its own way, always the same', () => {
    const speeds: number[] = [];
    const distances: number[] = [];
    for (let seed = 0; seed < 60; seed += 1) {
      const engine = locomotive(1, { spread: { speed: 6, braking: 12 } });
      const rig = openWith([train(1)], [engine], seed);
      rig.run(1, 50);
      rig.until(6000);
      const speed = speedOf(rig);
      const began = travelled(rig);
      rig.run(1, 0);
      rig.until(20_000);
      speeds.push(speed / 100 - 1);
      distances.push((speed * speed) / (2 * 80 * (travelled(rig) - began)) - 1);
      rig.run(1, 50);
      rig.until(26_000);
      expect(speedOf(rig)).toBe(speed);
    }
    for (const [found, spread] of [
      [speeds, 0.06],
      [distances, 0.12],
    ] as const) {
      expect(Math.max(...found)).toBeLessThanOrEqual(spread + 1e-9);
      expect(Math.min(...found)).toBeGreaterThanOrEqual(-spread - 1e-9);
      expect(Math.max(...found)).toBeGreaterThan(spread * 0.7);
      expect(Math.min(...found)).toBeLessThan(-spread * 0.7);
    }
  });

  it('of two locomotives the first from the front that was commanded leads; the weaker sets the rates', () => {
    const double = train(1, [], [{ locomotive: locomotive(2).id, facing: 'forward' }]);
    const slow = [{ step: 126, speed: mmPerS(126) }];
    const second = locomotive(2, {
      speedTable: { forward: slow, reverse: slow },
      braking: mmPerS2(30),
    });
    const rig = openWith([double], [locomotive(1), second]);
    rig.run(2, 100);
    rig.until(6000);
    expect(speedOf(rig)).toBeCloseTo(100, 9);
    rig.run(1, 100);
    rig.until(12_000);
    expect(speedOf(rig)).toBeCloseTo(200, 9);
    const began = travelled(rig);
    rig.run(1, 0);
    rig.until(60_000);
    expect(travelled(rig) - began).toBeCloseTo((200 * 200) / (2 * 30), 6);
  });

  it('stop-all brakes every train with its momentum and leaves the power on', () => {
    const rig = openWith([train(1)], [locomotive(1)]);
    rig.run(1, 50);
    rig.until(6000);
    const began = travelled(rig);
    rig.simulated.command(6000, { kind: 'stop-all' });
    rig.until(20_000);
    expect(travelled(rig) - began).toBeCloseTo((100 * 100) / 160, 6);
    expect(rig.simulated.truth.powered(0)).toBe(true);
  });

  it('a train longer than a block stands over several elements', () => {
    const rig = openWith(
      [train(1, [{ car: 'coach', count: 10 }])],
      [locomotive(1, { length: mm(200) })],
    );
    expect(rig.simulated.truth.train(0)!.stretches).toEqual([
      { element: rig.element('north'), leg: 0, from: 0, to: 1100 },
      { element: rig.element('west'), leg: 0, from: 800, to: 1100 },
    ]);
  });

  it('commands to a decoder that no train carries do nothing', () => {
    const rig = openWith([train(1)], [locomotive(1)]);
    rig.run(77, 100);
    rig.until(5000);
    expect(speedOf(rig)).toBe(0);
  });
});

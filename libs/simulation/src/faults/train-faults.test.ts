import { compileLayout, compileStock } from '@blockbell/railway';
import { mm } from '@blockbell/railway/track';
import { describe, expect, it } from 'vitest';
import { circle, passingLoop } from '../test-support/layouts.js';
import { openRig, placeOf } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';
import type { Fault } from './fault.js';

const layout = compileLayout(passingLoop());
const round = compileLayout(circle());
const stock = compileStock(
  stockOf(
    [train(1, [{ car: 'coach', count: 2 }]), train(2)],
    [locomotive(1, { runOn: mm(100) }), locomotive(2)],
  ),
);
const open = (faults: readonly Fault[], second: readonly [string, 'a' | 'b'] | null = null) =>
  openRig({ layout: round, stock, places: [['north', 'b'], second], faults });
const speed = (rig: ReturnType<typeof open>, index = 0): number =>
  rig.simulated.truth.train(index)!.speed;

describe('a stall', () => {
  it('stops the train dead until the nudge, after which it follows its command again', () => {
    const rig = open([{ kind: 'stall', train: 0, at: 5000, duration: 4000 }]);
    rig.run(1, 50);
    rig.until(5000);
    expect(speed(rig)).toBe(0);
    const { front } = rig.simulated.truth.train(0)!;
    rig.until(9000);
    expect(rig.simulated.truth.train(0)!.front).toEqual(front);
    rig.until(12_000);
    expect(speed(rig)).toBeCloseTo(100, 9);
  });

  it('lasts until it is mended when it has no duration', () => {
    const rig = open([{ kind: 'stall', train: 0, at: 5000, duration: null }]);
    rig.run(1, 50);
    rig.until(100_000);
    expect(speed(rig)).toBe(0);
    rig.simulated.mend(0, 100_000);
    rig.until(110_000);
    expect(speed(rig)).toBeCloseTo(100, 9);
  });

  it('mended before it came never comes', () => {
    const rig = open([{ kind: 'stall', train: 0, at: 5000, duration: null }]);
    rig.run(1, 50);
    rig.simulated.mend(0, 4000);
    rig.until(8000);
    expect(speed(rig)).toBeCloseTo(100, 9);
  });
});

describe('run-on', () => {
  it.each([
    [2500, 250],
    [0, 0],
  ])('of %i permille of the declared: %i mm', (permille, distance) => {
    const rig = open([{ kind: 'run-on', train: 0, permille, at: 0, duration: null }]);
    rig.run(1, 50);
    rig.until(4000);
    const before = rig.simulated.state.bodies[0]!.motion;
    const place = before.front + (before.speed * (4000 - before.since)) / 1000;
    rig.power(false);
    rig.until(20_000);
    expect(speed(rig)).toBe(0);
    expect(rig.simulated.state.bodies[0]!.motion.front - place).toBeCloseTo(distance, 6);
  });
});

describe('a runaway', () => {
  it('ignores commands, even stop-all, and obeys again when it is over', () => {
    const rig = open([{ kind: 'runaway', train: 0, speed: -150, at: 3000, duration: 20_000 }]);
    rig.run(1, 30);
    rig.until(10_000);
    expect(speed(rig)).toBeCloseTo(-150, 9);
    rig.simulated.command(10_000, { kind: 'stop-all' });
    rig.until(22_000);
    expect(speed(rig)).toBeCloseTo(-150, 9);
    rig.until(30_000);
    expect(speed(rig)).toBe(0);
  });

  it('stops when its district loses power', () => {
    const rig = open([{ kind: 'runaway', train: 0, speed: 150, at: 3000, duration: null }]);
    rig.until(10_000);
    rig.power(false);
    rig.until(20_000);
    expect(speed(rig)).toBe(0);
  });

  it('names itself as the cause when it hits another, and stops there', () => {
    const rig = open(
      [{ kind: 'runaway', train: 0, speed: 150, at: 3000, duration: null }],
      ['south', 'b'],
    );
    rig.until(60_000);
    expect(rig.simulated.truth.incidents).toMatchObject([
      { kind: 'contact', trains: [0, 1], causes: [{ fault: 0, kind: 'runaway' }] },
    ]);
    expect(speed(rig)).toBe(0);
  });
});

describe('slip', () => {
  it('runs slower than commanded while it lasts', () => {
    const rig = open([{ kind: 'slip', train: 0, permille: 700, at: 6000, duration: 8000 }]);
    rig.run(1, 50);
    rig.until(10_000);
    expect(speed(rig)).toBeCloseTo(70, 9);
    rig.until(20_000);
    expect(speed(rig)).toBeCloseTo(100, 9);
  });
});

describe('lost cars', () => {
  it('stay behind and keep their section occupied; the train goes on, shorter', () => {
    const rig = open([{ kind: 'lost-cars', train: 0, length: 120, at: 7000 }]);
    rig.run(1, 50);
    rig.until(40_000);
    const [main, cars] = rig.simulated.truth.trains();
    expect([main!.leftBehind, cars!.leftBehind]).toEqual([false, true]);
    const lengthOf = (it: typeof main): number =>
      it!.stretches.reduce((sum, { from, to }) => sum + to - from, 0);
    expect(lengthOf(main)).toBeCloseTo(300, 6);
    expect(lengthOf(cars)).toBeCloseTo(120, 6);
    expect(cars!.speed).toBe(0);
    expect(cars!.stretches).toHaveLength(1);
    const place = cars!.stretches[0]!;
    expect(place.element).toBe(rig.element('east'));
    expect(rig.simulated.truth.section(rig.section('east-1')).occupied).toBe(true);
    expect(rig.edges('east-1').at(-1)![1]).toBe(true);
    expect(rig.reports('east-1').at(-1)![1]).toEqual([]);
  });

  it('are lifted off by hand; then their section is free', () => {
    const rig = open([
      { kind: 'lost-cars', train: 0, length: 120, at: 7000 },
      { kind: 'cars-lifted', train: 0, at: 20_000 },
    ]);
    rig.run(1, 50);
    rig.until(40_000);
    expect(rig.simulated.truth.trains().map(({ leftBehind }) => leftBehind)).toEqual([false]);
    expect(rig.edges('east-1').at(-1)![1]).toBe(false);
  });

  it('are hit by the train when it comes round again', () => {
    const rig = open([{ kind: 'lost-cars', train: 0, length: 120, at: 6000 }]);
    rig.run(1, 100);
    rig.until(60_000);
    expect(rig.simulated.truth.incidents).toMatchObject([
      { kind: 'contact', trains: [0, 0], causes: [{ fault: 0, kind: 'lost-cars' }] },
    ]);
  });

  it('with the engine at the rear among them, follow its commands on their own', () => {
    const trains = [
      train(
        1,
        [{ car: 'coach', count: 2 }],
        [{ locomotive: locomotive(2).id, facing: 'backward' }],
      ),
    ];
    const double = compileStock(stockOf(trains, [locomotive(1), locomotive(2)]));
    const rig = openRig({
      layout: round,
      stock: double,
      places: [['north', 'b']],
      faults: [{ kind: 'lost-cars', train: 0, length: 300, at: 1000 }],
    });
    rig.until(2000);
    rig.run(2, 50, true);
    rig.until(5000);
    const [main, part] = rig.simulated.truth.trains();
    expect(main!.speed).toBe(0);
    expect(part!.speed).toBeCloseTo(-100, 9);
  });
});

describe('stock moved by hand', () => {
  it('is gone here and there at once; both places tell', () => {
    const to = placeOf(round, ['south', 'a']);
    const rig = open([{ kind: 'hand-moved', train: 0, to, at: 5000 }]);
    rig.until(8000);
    expect(rig.simulated.truth.train(0)).toMatchObject({
      front: { element: rig.element('south'), offset: 100 },
      towards: 'a',
      speed: 0,
    });
    expect(rig.edges('north-2').map((edge) => edge[1])).toEqual([true, false]);
    expect(rig.edges('south-1').map((edge) => edge[1])).toEqual([false, true]);
    expect(rig.reports('south-1').map((report) => report[1])).toEqual([[1]]);
  });

  it('may be taken off, and put on where it never was', () => {
    const to = placeOf(round, ['south', 'a']);
    const rig = open([
      { kind: 'hand-moved', train: 0, to: null, at: 5000 },
      { kind: 'hand-moved', train: 1, to, at: 6000 },
    ]);
    rig.until(8000);
    expect(rig.simulated.truth.train(0)).toBeNull();
    expect(rig.simulated.truth.train(1)!.front.element).toBe(rig.element('south'));
    rig.run(2, 50);
    rig.until(12_000);
    expect(speed(rig, 1)).toBeCloseTo(100, 9);
  });

  it('set down before a moving train names its cause; on top of another it touches at once', () => {
    const to = placeOf(round, ['south', 'b']);
    const rig = open([{ kind: 'hand-moved', train: 1, to, at: 6000 }]);
    rig.run(1, 80);
    rig.until(30_000);
    expect(rig.simulated.truth.incidents).toMatchObject([
      { kind: 'contact', causes: [{ fault: 0, kind: 'hand-moved' }] },
    ]);
    const onTop = open([
      { kind: 'hand-moved', train: 1, to: placeOf(round, ['north', 'a']), at: 6000 },
    ]);
    onTop.until(7000);
    expect(onTop.incidents()).toEqual([]);
    const really = open([
      { kind: 'hand-moved', train: 1, to: placeOf(round, ['north', 'b']), at: 6000 },
    ]);
    really.until(7000);
    expect(really.simulated.truth.incidents).toMatchObject([
      { kind: 'contact', at: 6000, causes: [{ kind: 'hand-moved' }] },
    ]);
  });
});

describe('drives and power', () => {
  const openLoop = (faults: readonly Fault[]) =>
    openRig({ layout, stock, places: [['west', 'b'], null], faults });

  it('a stuck turnout ignores its commands and says nothing, until it is mended', () => {
    const points = layout.elementByName.get('points-w')!;
    const rig = openLoop([{ kind: 'stuck-drive', element: points, at: 500, duration: 4500 }]);
    rig.until(1000);
    rig.throwTo('points-w', 'diverging');
    rig.until(6000);
    expect(rig.simulated.truth.drive(points)).toEqual({ position: 'straight', moving: null });
    expect(rig.events('drive')).toHaveLength(1);
    rig.throwTo('points-w', 'diverging');
    rig.until(7000);
    expect(rig.simulated.truth.drive(points)!.position).toBe('diverging');
  });

  it('a power loss takes the district off; it returns by itself only if it was commanded on', () => {
    const loss: Fault = { kind: 'power-loss', district: 0, at: 3000, duration: 2000 };
    const rig = openLoop([loss]);
    rig.until(10_000);
    const told = rig.events('power').filter(({ district }) => district === 0);
    expect(told.map(({ state }) => state)).toEqual(['on', 'off', 'on']);
    expect(told[2]!.at).toBeGreaterThan(5000);
    const off = openLoop([loss]);
    off.until(4000);
    off.power(false, 'first');
    off.until(10_000);
    expect(off.simulated.truth.powered(0)).toBe(false);
  });

  it('a short trips the district; power comes back on command only, once the short is gone', () => {
    const rig = openLoop([{ kind: 'short', district: 0, at: 3000, duration: 2000 }]);
    rig.until(4000);
    rig.power(true, 'first');
    rig.until(20_000);
    rig.power(true, 'first');
    rig.until(21_000);
    const told = rig.events('power').filter(({ district }) => district === 0);
    expect(told.map(({ state }) => state)).toEqual(['on', 'short', 'short', 'on']);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { car, locomotive, stockOf, train } from '../testing/stock-parts.js';
import { mmPerS, mmPerS2 } from '../units.js';
import { addressKey, compileStock } from './compile-stock.js';

describe('compileStock', () => {
  it('adds lengths up and finds what detectors see', () => {
    const stock = compileStock(
      stockOf(
        [locomotive('L1', 3), locomotive('L2', 4)],
        [car('coach', 260), car('wagon', 130, false)],
        [train('T', 'wagon*2 L1 coach*2 wagon*1 -L2 wagon*3')],
      ),
    );
    expect(stock.trains[0]).toMatchObject({
      length: 260 + 180 + 520 + 130 + 180 + 390,
      detected: [
        { from: 260, to: 960 },
        { from: 1090, to: 1270 },
      ],
      unseenFront: 260,
      unseenRear: 390,
      locomotives: [
        { extent: { from: 260, to: 440 }, facingForward: true },
        { extent: { from: 1090, to: 1270 }, facingForward: false },
      ],
    });
  });

  it('takes the weakest value of several locomotives', () => {
    const weak = {
      topSpeed: mmPerS(150),
      acceleration: mmPerS2(40),
      braking: mmPerS2(200),
      spread: { speed: 1, braking: 9.01 },
      answers: false,
    };
    const stock = compileStock(
      stockOf([locomotive('L1', 3), locomotive('L2', 4, weak)], [], [train('T', 'L1 L2')]),
    );
    expect(stock.trains[0]).toMatchObject({
      topSpeed: 150,
      acceleration: 40,
      braking: 120,
      speedSpread: 40,
      brakingSpread: 91,
      answers: true,
    });
  });

  it('runs no faster than was measured in the slower direction', () => {
    const stock = compileStock(
      stockOf([locomotive('L1', 3, { topSpeed: mmPerS(400) })], [], [train('T', 'L1')]),
    );
    expect(stock.trains[0]?.topSpeed).toBe(270);
  });

  it('finds trains by name and by decoder address; short and long are two', () => {
    const file = stockOf(
      [locomotive('L1', 3), locomotive('L2', 3, { address: { kind: 'long', number: 3 } })],
      [],
      [train('A', 'L1'), train('B', 'L2')],
    );
    const stock = compileStock(file);
    expect(stock.trainByName.get('B')).toBe(1);
    expect(stock.trainByAddress.get(addressKey({ kind: 'short', number: 3 }))).toBe(0);
    expect(stock.trainByAddress.get(addressKey({ kind: 'long', number: 3 }))).toBe(1);
  });

  it('sees exactly the detected vehicles of any train', () => {
    const makeUp = fc.array(fc.constantFrom('coach*1', 'wagon*1', 'wagon*2', 'coach*3'), {
      maxLength: 8,
    });
    fc.assert(
      fc.property(makeUp, makeUp, (ahead, behind) => {
        const consist = [...ahead, 'L1', ...behind].join(' ');
        const [compiled] = compileStock(
          stockOf(
            [locomotive('L1', 3)],
            [car('coach', 260), car('wagon', 130, false)],
            [train('T', consist)],
          ),
        ).trains;
        const seen = (compiled?.detected ?? []).reduce((sum, it) => sum + it.to - it.from, 0);
        const coaches = [...consist.matchAll(/coach\*(\d)/g)].reduce(
          (sum, it) => sum + Number(it[1]),
          0,
        );
        expect(seen).toBe(180 + 260 * coaches);
        (compiled?.detected ?? []).slice(1).forEach((extent, index) => {
          expect(extent.from).toBeGreaterThan(compiled?.detected[index]?.to ?? Infinity);
        });
      }),
    );
  });
});

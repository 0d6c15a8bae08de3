import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edited } from '../testing/edit.js';
import type { Mutable } from '../testing/edit.js';
import { expectFault, expectOnlyFault } from '../testing/expect-fault.js';
import { damaged } from '../testing/fuzz.js';
import { locomotive, stockOf, train, twoTrains } from '../testing/stock-parts.js';
import { compileStock } from './compile-stock.js';
import type { DecoderAddress, StockFile } from './stock-file.js';
import { validateStock } from './validate-stock.js';

type Change = (file: Mutable<StockFile>) => void;
const faultsAfter = (change: Change) => validateStock(edited(twoTrains(), change));

describe('validateStock', () => {
  it('finds nothing in a sound stock', () => {
    expect(validateStock(twoTrains())).toEqual([]);
  });

  it.each<[string, Change, string, RegExp]>([
    [
      'an id twice',
      (file) => void (file.trains[1]!.id = 'P'),
      'trains[1] P',
      /already used by trains\[0\]/,
    ],
    ['a bad id', (file) => void (file.trains[1]!.id = '2'), 'trains[1] 2', /no valid id/],
    [
      'an address twice',
      (file) => void (file.locomotives[1]!.address.number = 3),
      'locomotives[1] L2',
      /address short:3 is already used by locomotives\[0\] L1/,
    ],
    [
      'the address of a consist that a locomotive has',
      (file) => void (file.trains[0]!.consistAddress = { kind: 'short', number: 3 }),
      'trains[0] P',
      /address short:3 is already used by locomotives\[0\] L1/,
    ],
    [
      'the address of a consist beyond its range',
      (file) => void (file.trains[0]!.consistAddress = { kind: 'short', number: 128 }),
      'trains[0] P consistAddress',
      /short address is 128/,
    ],
    [
      'no length',
      (file) => void (file.locomotives[0]!.length = 0),
      'locomotives[0] L1',
      /length is 0 mm/,
    ],
    [
      'no top speed',
      (file) => void (file.locomotives[0]!.topSpeed = 0),
      'locomotives[0] L1',
      /top speed/,
    ],
    [
      'no acceleration',
      (file) => void (file.locomotives[0]!.acceleration = 0),
      'locomotives[0]',
      /acceleration/,
    ],
    [
      'no braking',
      (file) => void (file.locomotives[0]!.braking = -1),
      'locomotives[0]',
      /braking is -1/,
    ],
    [
      'negative run-on',
      (file) => void (file.locomotives[0]!.runOn = -1),
      'locomotives[0]',
      /run-on/,
    ],
    [
      'negative spread',
      (file) => void (file.locomotives[0]!.spread.speed = -1),
      'locomotives[0] L1 spread speed',
      /-1 percent/,
    ],
    [
      'a spread that leaves no braking',
      (file) => void (file.locomotives[0]!.spread.braking = 100),
      'locomotives[0] L1 spread braking',
      /100 percent/,
    ],
    [
      'no speed table in reverse',
      (file) => void (file.locomotives[0]!.speedTable.reverse = []),
      'locomotives[0] L1 speedTable reverse',
      /nothing is measured/,
    ],
    [
      'a step beyond 126',
      (file) => void (file.locomotives[0]!.speedTable.forward[1]!.step = 127),
      'locomotives[0] L1 speedTable forward[1]',
      /step is 127/,
    ],
    [
      'a step 0',
      (file) => void (file.locomotives[0]!.speedTable.forward[0]!.step = 0),
      'locomotives[0] L1 speedTable forward[0]',
      /step is 0/,
    ],
    [
      'speeds that fall',
      (file) => void (file.locomotives[0]!.speedTable.forward[1]!.speed = 8),
      'locomotives[0] L1 speedTable forward[1]',
      /does not rise above/,
    ],
    [
      'a car without length',
      (file) => void (file.cars[0]!.length = 0),
      'cars[0] coach',
      /length is 0/,
    ],
    [
      'an empty label',
      (file) => void (file.trains[0]!.label = ''),
      'trains[0] P',
      /has 0 characters/,
    ],
    [
      'a long label',
      (file) => void (file.trains[0]!.label = '123456789'),
      'trains[0] P',
      /9 characters/,
    ],
    [
      'a label twice',
      (file) => void (file.trains[1]!.label = 'P'),
      'trains[1] G',
      /label P is already used/,
    ],
    ['priority 0', (file) => void (file.trains[0]!.priority = 0), 'trains[0] P', /priority is 0/],
    [
      'no cars of a kind',
      (file) => void (file.trains[0]!.vehicles[1] = { car: 'coach', count: 0 }),
      'trains[0] P vehicles[1]',
      /number of cars is 0/,
    ],
    [
      'an unknown car',
      (file) => void (file.trains[0]!.vehicles[1] = { car: 'x', count: 1 }),
      'trains[0] P vehicles[1]',
      /no car x/,
    ],
  ])('finds %s', (_, change, place, text) => expectOnlyFault(faultsAfter(change), place, text));

  it('finds a train without a locomotive', () => {
    expectFault(
      faultsAfter((file) => void file.trains[0]!.vehicles.shift()),
      'trains[0] P',
      /no locomotive/,
    );
  });

  it('finds an unknown locomotive and one that runs in two trains', () => {
    const faults = validateStock(
      stockOf([locomotive('L1', 3)], [], [train('A', 'L1'), train('B', 'L1 L9')]),
    );
    expectFault(faults, 'trains[1] B vehicles[1]', /no locomotive L9/);
    expectFault(faults, 'trains[1] B', /locomotive L1 is already used by trains\[0\] A/);
  });

  it('names all faults in one go', () => {
    const faults = faultsAfter((file) => {
      file.locomotives[0]!.length = 0;
      file.cars[0]!.length = 0;
      file.trains[0]!.priority = 10;
    });
    expect(faults).toHaveLength(3);
  });

  it('never stumbles, and what it passes compiles', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(), fc.nat(3), fc.nat()), { minLength: 1, maxLength: 4 }),
        (damage) => {
          const file = damaged(twoTrains(), damage);
          expect(() => {
            if (validateStock(file).length === 0) compileStock(file);
          }).not.toThrow();
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('decoder addresses', () => {
  const faultsOf = (address: DecoderAddress) =>
    validateStock(stockOf([locomotive('L1', 1, { address })], [], [train('T', 'L1')]));

  // Source: NMRA S-9.2.1, partitions of the first address byte: 0x01–0x7F are 7-bit multifunction addresses (1–127,
  // 0x00 is broadcast); 0xC0–0xE7 are 14-bit ones, six high bits in the first byte and eight in the second. Long
  // numbers with the two bytes they are sent as.
  const LONG: readonly (readonly [number, string])[] = [
    [0, 'C0 00'],
    [3, 'C0 03'],
    [100, 'C0 64'],
    [128, 'C0 80'],
    [255, 'C0 FF'],
    [256, 'C1 00'],
    [1234, 'C4 D2'],
    [4711, 'D2 67'],
    [9999, 'E7 0F'],
    [10000, 'E7 10'],
    [10239, 'E7 FF'],
  ];

  it.each(LONG)('accept the long address %d, sent as %s', (number, bytes) => {
    const [high = 0, low = 0] = bytes.split(' ').map((byte) => Number.parseInt(byte, 16));
    expect((high - 0xc0) * 256 + low).toBe(number);
    expect(faultsOf({ kind: 'long', number })).toEqual([]);
  });

  it('refuse a long address whose first byte would leave its partition', () => {
    const beyond = (0xe8 - 0xc0) * 256;
    expectOnlyFault(
      faultsOf({ kind: 'long', number: beyond }),
      'locomotives[0] L1 address',
      /10240/,
    );
    expectFault(faultsOf({ kind: 'long', number: -1 }), 'locomotives[0] L1 address', /-1/);
  });

  it.each([0x01, 0x03, 0x63, 0x64, 0x7f])('accept the short address %d', (number) => {
    expect(faultsOf({ kind: 'short', number })).toEqual([]);
  });

  it.each([0x00, 0x80, 0xff])('refuse the short address %d', (number) => {
    expectOnlyFault(
      faultsOf({ kind: 'short', number }),
      'locomotives[0] L1 address',
      /short address/,
    );
  });

  it('of one number are two decoders, one short and one long', () => {
    const long = locomotive('L2', 0, { address: { kind: 'long', number: 100 } });
    expect(
      validateStock(stockOf([locomotive('L1', 100), long], [], [train('T', 'L1 L2')])),
    ).toEqual([]);
  });
});

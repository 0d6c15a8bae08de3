import fc from 'fast-check';
import { beforeEach, expect, test } from 'vitest';
import { Tries } from './tries.js';

let now = 0;
let tries: Tries;
beforeEach(() => {
  now = 0;
  tries = new Tries(() => now);
});

/** Tries as often as allowed until a wait is imposed. */
function waitAfter(person: string, address: string): number {
  for (;;) {
    const wait = tries.begin(person, address);
    if (wait !== null) return wait;
  }
}

test('a few tries are free, then the wait doubles', () => {
  expect([1, 2, 3].map(() => tries.begin('Ann', 'a'))).toEqual([null, null, null]);
  for (const wait of [1_000, 2_000, 4_000, 8_000]) {
    expect(tries.begin('Ann', 'a')).toBe(wait);
    now += wait;
    expect(tries.begin('Ann', 'a')).toBeNull();
  }
});

test('asking during a wait does not make it longer', () => {
  expect(waitAfter('Ann', 'a')).toBe(1_000);
  now += 400;
  expect(tries.begin('Ann', 'a')).toBe(600);
  expect(tries.begin('ANN', 'a')).toBe(600);
});

test('a name is guarded against tries from many addresses, but never barred for long', () => {
  let longest = 0;
  for (let address = 0; address < 500; address++) {
    const wait = tries.begin('Ann', `address ${address}`);
    longest = Math.max(longest, wait ?? 0);
    now += wait ?? 0;
  }
  expect(longest).toBe(30_000);
});

test('an address that tries many names waits ever longer', () => {
  let longest = 0;
  for (let name = 0; name < 40; name++) {
    const wait = tries.begin(`name ${name}`, 'a');
    longest = Math.max(longest, wait ?? 0);
    now += wait ?? 0;
  }
  expect(longest).toBe(15 * 60_000);
  expect(tries.begin('somebody', 'another')).toBeNull();
});

test('the right passphrase ends the wait for that name and address', () => {
  waitAfter('Ann', 'a');
  tries.succeed('Ann', 'a');
  expect(tries.begin('Ann', 'a')).toBeNull();
});

test('after an hour of quiet everything is forgiven', () => {
  waitAfter('Ann', 'a');
  now += 60 * 60_000;
  expect([1, 2, 3].map(() => tries.begin('Ann', 'a'))).toEqual([null, null, null]);
});

test('whatever is tried, in any minute fewer than ten guesses at one name get through', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.record({
          from: fc.integer({ min: 0, max: 300 }),
          pass: fc.integer({ min: 0, max: 50 }),
        }),
        {
          minLength: 300,
          maxLength: 1_200,
        },
      ),
      (attempts) => {
        now = 0;
        tries = new Tries(() => now);
        const through: number[] = [];
        for (const { from, pass } of attempts) {
          now += pass;
          if (tries.begin('Ann', `${from}`) === null) through.push(now);
        }
        for (const at of through)
          expect(through.filter((one) => one >= at && one < at + 60_000).length).toBeLessThan(10);
      },
    ),
    { numRuns: 30 },
  );
});

import { describe, expect, it } from 'vitest';
import { Waits } from './waits.js';

const held = { kind: 'element-held', element: 3, by: 1 } as const;
const unsafe = { kind: 'would-lock' } as const;
const booked = { kind: 'booked', depart: 0 } as const;

describe('waits', () => {
  it('last from the first obstacle to the moment the train goes on, whatever the obstacle', () => {
    const waits = new Waits(1);
    waits.see(0, held, 1000);
    waits.see(0, unsafe, 5000);
    waits.see(0, null, 9000);
    expect(waits.all).toEqual({ count: 1, total: 8000, longest: 8000 });
    expect(waits.byReason).toEqual({
      'element-held': { count: 1, total: 4000, longest: 4000 },
      'would-lock': { count: 1, total: 4000, longest: 4000 },
    });
  });

  it('are none while a train keeps to its plan', () => {
    const waits = new Waits(1);
    waits.see(0, booked, 1000);
    waits.see(0, null, 90_000);
    expect(waits.all).toMatchObject({ count: 0, total: 0 });
  });

  it('are not counted while they only take the time of setting a way', () => {
    const waits = new Waits(2);
    waits.see(0, held, 1000);
    waits.see(1, held, 1000);
    waits.see(0, null, 2999);
    waits.see(1, null, 3000);
    expect(waits.all).toMatchObject({ count: 1, total: 2000 });
  });
});

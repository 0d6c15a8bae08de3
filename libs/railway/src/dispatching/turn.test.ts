import { describe, expect, it } from 'vitest';
import type { Precedence } from '../session/state.js';
import { greedyShuttles } from '../testing/shuttle-line.js';
import { Writer } from '../session/writer.js';
import { byTurn } from './turn.js';

/** T0 has come first, T1 is more important, and T2 is booked first. */
function asked(precedence: Precedence): number[] {
  const driver = greedyShuttles([
    { from: 'W1', runs: 1, priority: 7 },
    { from: 'W2', runs: 1, priority: 2 },
    { from: 'W3', runs: 1, priority: 5 },
  ]);
  driver.state.dispatching.precedence = precedence;
  driver.state.trains.forEach((train, index) => {
    train.wait = { kind: 'would-lock' };
    train.waitingSince = 1000 * (index + 1);
    // What is booked next is its arrival once it has left its call.
    if (index === 2) return;
    train.arrivedAt = null;
  });
  return byTurn(new Writer(driver.world, driver.state, driver.now, 0));
}

describe('trains that stand are asked', () => {
  it.each([
    ['booked', [2, 1, 0]],
    ['first-come', [0, 1, 2]],
    ['priority', [1, 2, 0]],
  ] as const)('%s', (precedence, order) => {
    expect(asked(precedence)).toEqual(order);
  });
});

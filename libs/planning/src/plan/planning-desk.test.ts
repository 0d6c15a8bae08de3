import { passSeconds } from '@blockbell/rehearsal';
import { expect, it } from 'vitest';
import { filesOf, rehearsalOf } from '../testing/example-rehearsal.js';
import { PlanningDesk } from './planning-desk.js';

/** Seconds after the start at which plans are due while trains are held in the seconds given; both are booked to leave after 50 s. */
function dueWith(
  held: readonly { readonly train: number; from: number; until: number }[],
): number[] {
  const rehearsal = rehearsalOf(filesOf('passing-loop'), 1);
  const seconds = passSeconds(rehearsal, 600_000);
  while (!rehearsal.state.session.clock.running) seconds.next();
  const desk = new PlanningDesk();
  const begin = rehearsal.now;
  const due: number[] = [];
  for (let second = 0; second <= 125; second++) {
    rehearsal.runTo(begin + second * 1000);
    const { world, state, now } = rehearsal;
    if (desk.look(world, state, now) !== null) due.push(second);
    for (const { train, from, until } of held) {
      if (second !== from && second !== until) continue;
      const command = { kind: 'hold-train', train, hold: second === from } as const;
      expect(rehearsal.command('Ada', command)).toBeNull();
    }
  }
  return due;
}

it('has a plan made every 40 s, and at once when a train has been held for 15 s though it could have left, and when it is let go', () => {
  expect(dueWith([])).toEqual([0, 40, 80, 120]);
  expect(dueWith([{ train: 0, from: 45, until: 80 }])).toEqual([0, 40, 65, 81, 121]);
});

it('has none made for a train that is held for less than that, or before its time', () => {
  expect(dueWith([{ train: 0, from: 45, until: 62 }])).toEqual([0, 40, 80, 120]);
});

it('has two plans made ten seconds apart at least', () => {
  expect(dueWith([{ train: 0, from: 45, until: 66 }])).toEqual([0, 40, 65, 75, 115]);
});

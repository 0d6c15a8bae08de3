import { passSeconds } from '@blockbell/rehearsal';
import { expect, it } from 'vitest';
import { filesOf, rehearsalOf } from '../testing/example-rehearsal.js';
import { PlanningDesk } from './planning-desk.js';

it('has a plan made every 40 s, at once when a train is held, and ten seconds after that one when the train is let go before', () => {
  const rehearsal = rehearsalOf(filesOf('passing-loop'), 1);
  const seconds = passSeconds(rehearsal, 600_000);
  while (!rehearsal.state.session.clock.running) seconds.next();
  const desk = new PlanningDesk();
  const begin = rehearsal.now;
  const due: number[] = [];
  for (let second = 0; second <= 110; second++) {
    rehearsal.runTo(begin + second * 1000);
    const { world, state, now } = rehearsal;
    if (desk.look(world, state, now) !== null) due.push(second);
    if (second !== 55 && second !== 60) continue;
    const hold = second === 55;
    expect(rehearsal.command('Ada', { kind: 'hold-train', train: 0, hold })).toBeNull();
  }
  expect(due).toEqual([0, 40, 56, 66, 106]);
});

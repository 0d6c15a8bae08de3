import { expect, it } from 'vitest';
import { Rehearsal } from '@blockbell/rehearsal';
import { Obstacles } from './obstacles.js';
import { play } from './play.js';
import { demoSubject } from './subjects.js';

const MINUTE = 60_000;

it('something on the track stops the train that runs towards it, and no other', () => {
  const rehearsal = new Rehearsal(demoSubject());
  const { world, state, simulated } = rehearsal;
  const obstacles = new Obstacles(world, state, simulated);
  expect(obstacles.drop(rehearsal.now), 'nothing runs before the start').toBe(false);
  play(rehearsal, 3 * MINUTE);
  let dropped = 0;
  for (let second = 0; second < 120 && dropped === 0; second++) {
    if (obstacles.drop(rehearsal.now)) dropped++;
    rehearsal.runTo(rehearsal.now + 1000);
  }
  expect(dropped).toBe(1);
  const halted = state.trains.filter(({ activity }) => activity.kind === 'halted');
  expect(halted).toHaveLength(1);
  expect(state.session.phase.kind).toBe('running');
});

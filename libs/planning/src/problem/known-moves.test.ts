import { compileWorld } from '@blockbell/railway';
import { passSeconds } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { lookAt } from '../situation/look.js';
import { filesOf, rehearsalOf } from '../testing/example-rehearsal.js';
import { buildProblem } from './build-problem.js';
import { USUAL_CHOICES } from './choices.js';

const files = filesOf('demo');

describe('what is known of moves from earlier plans', () => {
  it('makes the same problem as a world in which nothing was planned yet', () => {
    const rehearsal = rehearsalOf(files, 4);
    const used = compileWorld(...files);
    let problems = 0;
    for (const _ of passSeconds(rehearsal, 160_000)) {
      if (rehearsal.now < 120_000 || rehearsal.now % 20_000 > 0) continue;
      const situation = structuredClone(lookAt(rehearsal.world, rehearsal.state, rehearsal.now));
      const problem = buildProblem(used, situation, USUAL_CHOICES.horizon);
      expect(buildProblem(used, situation, USUAL_CHOICES.horizon)).toEqual(problem);
      const anew = compileWorld(...files);
      expect(buildProblem(anew, situation, USUAL_CHOICES.horizon)).toEqual(problem);
      problems++;
    }
    expect(problems).toBe(3);
  });
});

import { exampleFiles } from '@blockbell/examples';
import { compileWorld } from '@blockbell/railway';
import { Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { lookAt } from '../situation/look.js';
import { buildProblem } from './build-problem.js';
import { USUAL_CHOICES } from './choices.js';

type Files = Parameters<typeof compileWorld>;

const { layout, stock, timetable } = exampleFiles('demo');
const files = [JSON.parse(layout), JSON.parse(stock), JSON.parse(timetable)] as Files;

describe('what is known of moves from earlier plans', () => {
  it('makes the same problem as a world in which nothing was planned yet', () => {
    const rehearsal = new Rehearsal({
      layout: files[0],
      stock: files[1],
      timetable: files[2],
      seed: 4,
    });
    const dispatcher = new ScriptedDispatcher(rehearsal);
    const used = compileWorld(...files);
    let problems = 0;
    while (rehearsal.now < 160_000) {
      rehearsal.runTo(rehearsal.now + 1000);
      dispatcher.look();
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

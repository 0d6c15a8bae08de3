import { compileWorld } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { loopPlan, planWith } from '../testing/loop.js';
import { drawDisturbances } from './draw.js';
import { NO_DISTURBANCES, USUAL_DISTURBANCES } from './usual.js';

const { layout, stock, timetable } = loopPlan();
const world = compileWorld(layout, stock, timetable);

describe('disturbances drawn from a seed', () => {
  it('are the same each time, and others with another seed', () => {
    const drawn = drawDisturbances(world, USUAL_DISTURBANCES, 3);
    expect(drawDisturbances(world, USUAL_DISTURBANCES, 3)).toEqual(drawn);
    expect(drawDisturbances(world, USUAL_DISTURBANCES, 4)).not.toEqual(drawn);
    expect(drawDisturbances(world, NO_DISTURBANCES, 3)).toEqual({
      lateDepartures: [],
      trainFailures: [],
      faults: [],
    });
  });

  it('hit a service alike in another timetable that has it', () => {
    const fewer = planWith((all) => ({
      ...all,
      services: all.services.filter(({ id }) => id !== 'S3-1' && id !== 'S3-2'),
      workings: all.workings.map((each) =>
        each.id === 'W3' ? { ...each, services: ['S3-3'] } : each,
      ),
    }));
    const other = compileWorld(layout, stock, fewer.timetable);
    for (let seed = 1; seed <= 50; seed++) {
      const [one, two] = [world, other].map((each) =>
        drawDisturbances(each, USUAL_DISTURBANCES, seed)
          .lateDepartures.filter((it) => each.timetable.services[it.service]!.file.id === 'S47-2')
          .map(({ call, by }) => ({ call, by })),
      );
      expect(two).toEqual(one);
    }
  });

  it('hit the share of services asked for, and drives as often as asked for', () => {
    let late = 0;
    let drives = 0;
    const seeds = 500;
    for (let seed = 1; seed <= seeds; seed++) {
      const { lateDepartures, faults } = drawDisturbances(world, USUAL_DISTURBANCES, seed);
      late += lateDepartures.filter(({ call }) => call === 0).length;
      drives += faults.filter(({ kind }) => kind === 'stuck-drive').length;
    }
    // 30 in 100 of 6 services; once an hour of running, the session being 65 minutes of the clock at ratio 6. Four standard errors.
    expect(Math.abs(late / (6 * seeds) - 0.3)).toBeLessThan(4 * Math.sqrt(0.21 / (6 * seeds)));
    const expected = seeds * (65 / 6 / 60);
    expect(Math.abs(drives - expected)).toBeLessThan(4 * Math.sqrt(expected));
  });
});

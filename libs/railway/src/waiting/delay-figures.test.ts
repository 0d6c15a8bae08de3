import { expect, it } from 'vitest';
import { SessionDriver } from '../testing/session-driver.js';
import { line, oneTrain, thereAndBack } from '../testing/session-settings.js';
import { delayFigures, type RunCall } from './delay-figures.js';

const MINUTE = 60_000;
const { layout, timetable } = new SessionDriver(line(), oneTrain(), thereAndBack()).world;
const [NINE_TEN, NINE_FIFTY] = [(9 * 60 + 10) * MINUTE, (9 * 60 + 50) * MINUTE];
const lost = (train: number, place: number, minutes: number) => ({
  train,
  place,
  why: 'element-held',
  time: minutes * MINUTE,
});

const arrival = (service: number, arrived: number, delay: RunCall['delay']): RunCall => ({
  service,
  call: 1,
  arrived,
  delay,
});

it('counts punctuality at three and five minutes, and knock-on by train and by place', () => {
  const first = arrival(0, NINE_TEN + 4 * MINUTE, {
    entry: 0,
    own: MINUTE,
    lost: [lost(2, 1, 3), lost(-1, 1, 1), lost(1, 2, 1)],
    recovered: 2 * MINUTE,
  });
  const second = arrival(1, NINE_FIFTY + 3 * MINUTE, {
    entry: 4 * MINUTE,
    own: 0,
    lost: [lost(1, 1, 1)],
    recovered: 2 * MINUTE,
  });
  expect(delayFigures(layout, timetable, [[first, second], []])).toEqual({
    arrivals: 2,
    within3: 1,
    within5: 2,
    entry: 4 * MINUTE,
    own: 2 * MINUTE,
    knockOn: 5 * MINUTE,
    recovered: 4 * MINUTE,
    late: 7 * MINUTE,
    byTrain: [
      { of: 2, time: 3 * MINUTE },
      { of: 1, time: 2 * MINUTE },
    ],
    byPlace: [
      { of: 'Station West 1', time: 4 * MINUTE },
      { of: 'block B', time: MINUTE },
    ],
  });
});

it('of a session in which nothing arrived says so', () => {
  const figures = delayFigures(layout, timetable, [[arrival(0, 0, null)].slice(1)]);
  expect(figures).toMatchObject({ arrivals: 0, late: 0, byTrain: [], byPlace: [] });
});

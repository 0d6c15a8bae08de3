import { compileWorld, validateTimetable, compileLayout, compileStock } from '@blockbell/railway';
import { bookedYard, keptOut, keptOutText } from '@blockbell/staging';
import { expect, it } from 'vitest';
import { twoYards } from '../support/two-yards.js';

const { layout, stock, timetable } = twoYards();

/** The same with train 3 hauled by an engine that must run round to go back, or not; it may stop in the line as well. */
const withTrainThree = (canReverse: boolean) => ({
  ...stock,
  trains: stock.trains.map((train) => (train.id === 'T3' ? { ...train, canReverse } : train)),
});

it('a train that would have to run round in a yard is refused when its files are checked, with place and mend', () => {
  const check = (canReverse: boolean) =>
    validateTimetable(timetable, compileLayout(layout), compileStock(withTrainThree(canReverse)));
  expect(check(true)).toEqual([]);
  const [fault] = check(false);
  expect(fault!.place).toContain('back-3');
  expect(fault!.text).toContain('only with its rear leading, which it may not');
  expect(fault!.mend).toContain('no engine runs round its train here');
});

it('tracks in which it would have to are named beside the yard, and none where it need not', () => {
  const at = (canReverse: boolean) => {
    const world = compileWorld(layout, withTrainThree(canReverse), timetable);
    const yard = bookedYard(
      world,
      layout.stations.findIndex(({ id }) => id === 'near'),
    );
    return keptOut(world, yard).map((it) => keptOutText(world, it));
  };
  expect(at(true)).toEqual([]);
  expect(at(false)).toEqual([
    '3 is not put into track P1: it could leave it only with its rear leading, and no engine runs round its train here. ' +
      'Name other tracks in its calls, let it reverse if it can be driven from both ends, or bring it there and out by hand.',
  ]);
});

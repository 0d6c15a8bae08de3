import type { LayoutFile } from '../layout/layout-file.js';
import type { StockFile } from '../stock/stock-file.js';
import type { TimetableFile } from '../timetable/timetable-file.js';
import { mm } from '../units.js';
import { block, bufferStop, detection, layoutOf, station } from './layout-parts.js';
import { locomotive, stockOf, train } from './stock-parts.js';
import { service, timetableOf } from './timetable-parts.js';

/** Three sections of a block, `pa1` to `pa3` of PA. */
const divided = (id: string, length: number): LayoutFile['elements'][number] => {
  const name = id.toLowerCase();
  const parts = [`${name}1`, `${name}2`, `${name}3`] as const;
  return block(id, length, {
    detection: detection([parts[0], 300], [parts[1], length - 600], [parts[2], 300]),
    stopMarks: { a: mm(160), b: mm(160) },
  });
};

/**
 * A line with a platform track of two blocks between two stations:
 *
 *     WB – W – PA – PB – E – EB
 */
export const sharedPlatform = (callOn = true): LayoutFile => {
  const middle = station('Middle', 1, ['PA', 'PB']);
  return layoutOf(
    [
      bufferStop('WB'),
      divided('W', 1500),
      divided('PA', 1000),
      divided('PB', 1000),
      divided('E', 1500),
      bufferStop('EB'),
    ],
    ['WB.a W.a', 'W.b PA.a', 'PA.b PB.a', 'PB.b E.a', 'E.b EB.a'],
    {
      stations: [
        station('West', 0, ['W']),
        { ...middle, tracks: middle.tracks.map((track) => ({ ...track, callOn })) },
        station('East', 2, ['E']),
      ],
    },
  );
};

/** Two locomotives, P (3) and Q (4), 180 mm each. */
export const twoEngines = (): StockFile =>
  stockOf([locomotive('L1', 3), locomotive('L2', 4)], [], [train('P', 'L1'), train('Q', 'L2')]);

/** Q comes from East to the platform first, P from West after it; P goes on from there never, Q neither. */
export const meetAtPlatform = (q = 'E>a'): TimetableFile =>
  timetableOf(
    [
      service('Q1', 'East - 09:01', 'Middle 09:10 -'),
      service('P1', 'West - 09:10', 'Middle 09:20 -'),
    ],
    { Q: 'Q1', P: 'P1' },
    { P: 'W>b', Q: q },
  );

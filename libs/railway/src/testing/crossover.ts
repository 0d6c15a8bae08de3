import type { LayoutFile } from '../layout/layout-file.js';
import type { StockFile } from '../stock/stock-file.js';
import type { TimetableFile } from '../timetable/timetable-file.js';
import { block, bufferStop, detection, layoutOf, station, turnout } from './layout-parts.js';
import { SessionDriver } from './session-driver.js';
import { locomotive, stockOf, train } from './stock-parts.js';
import { call, service, timetableOf } from './timetable-parts.js';

/**
 * Two tracks with a crossover between them; each turnout protects the other's straight leg:
 *
 *     A1 – T1 – B1
 *            ╲
 *     A2 ─── T2 – B2
 */
export const crossover = (): LayoutFile =>
  layoutOf(
    [
      ...['X1', 'X2', 'Y1', 'Y2'].map(bufferStop),
      block('A1'),
      block('A2'),
      turnout('T1'),
      turnout('T2'),
      block('B1', 1000, { detection: detection(['b1', 300], ['b2', 700]) }),
      block('B2', 1000, { detection: detection(['c1', 300], ['c2', 700]) }),
    ],
    [
      'X1.a A1.a',
      'X2.a A2.a',
      'A1.b T1.stem',
      'T1.straight B1.a',
      'A2.b T2.straight',
      'T2.stem B2.a',
      'T1.diverging T2.diverging',
      'B1.b Y1.a',
      'B2.b Y2.a',
    ],
    { stations: [station('West', 0, ['A1'], ['A2']), station('East', 2, ['B1'], ['B2'])] },
  );

/** Two locomotives, P (3) and Q (4), 180 mm each. */
const stock = (): StockFile =>
  stockOf([locomotive('L1', 3), locomotive('L2', 4)], [], [train('P', 'L1'), train('Q', 'L2')]);

/** P goes straight from A1 to B1, Q from A2 to B2, each at its time. */
const timetable = (p: string, q: string): TimetableFile =>
  timetableOf(
    [
      service(
        'P1',
        call(`West - ${p}`, { tracks: ['t1'] }),
        call('East 10:30 -', { tracks: ['t1'] }),
      ),
      service(
        'Q1',
        call(`West - ${q}`, { tracks: ['t2'] }),
        call('East 10:30 -', { tracks: ['t2'] }),
      ),
    ],
    { P: 'P1', Q: 'Q1' },
    { P: 'A1>b', Q: 'A2>b' },
  );

/** P in A1 and Q in A2, running, to leave at these times. */
export function runningCrossover(p = '09:01', q = '09:59'): SessionDriver {
  const driver = new SessionDriver(crossover(), stock(), timetable(p, q));
  driver.lineUp('s-A1', 's-A2');
  driver.report('s-A1', 3);
  driver.report('s-A2', 4);
  driver.command({ kind: 'start' });
  if (driver.state.session.phase.kind !== 'running') throw new Error('the session did not start');
  return driver;
}

import type { BlockFile, LayoutFile } from '../layout/layout-file.js';
import type { StockFile } from '../stock/stock-file.js';
import type { TimetableFile } from '../timetable/timetable-file.js';
import { block, bufferStop, detection, layoutOf, passingLoop, station } from './layout-parts.js';
import { SessionDriver } from './session-driver.js';
import { car, locomotive, stockOf, train, twoTrains } from './stock-parts.js';
import { service, timetableOf } from './timetable-parts.js';

/**
 * A line of four blocks, each of 1000 mm in two sections (`a1` and `a2` in A, and so on), between two ends:
 *
 *     WB – A – B – C – D – EB
 */
export const line = (more: Partial<LayoutFile> = {}): LayoutFile =>
  layoutOf(
    [
      bufferStop('WB'),
      ...['A', 'B', 'C', 'D'].map((id) => {
        const name = id.toLowerCase();
        return block(id, 1000, { detection: detection([`${name}1`, 300], [`${name}2`, 700]) });
      }),
      bufferStop('EB'),
    ],
    ['WB.a A.a', 'A.b B.a', 'B.b C.a', 'C.b D.a', 'D.b EB.a'],
    { stations: [station('West', 0, ['A']), station('East', 3, ['D'])], ...more },
  );

/** One train T: locomotive 3 and a coach, 440 mm. */
export const oneTrain = (): StockFile =>
  stockOf([locomotive('L1', 3)], [car('coach')], [train('T', 'L1 coach*1', { canReverse: true })]);

/** T runs from A to D, and back half an hour later. */
export const thereAndBack = (): TimetableFile =>
  timetableOf(
    [service('S1', 'West - 09:01', 'East 09:10 -'), service('S2', 'East - 09:40', 'West 09:50 -')],
    { T: 'S1 S2' },
    { T: 'A>b' },
  );

/** Three sections of a block, `m1` to `m3` of M, the outer ones 300 mm long. */
const divided = (id: string, length: number): ReturnType<typeof detection> => {
  const name = id.toLowerCase();
  return detection([`${name}1`, 300], [`${name}2`, length - 600], [`${name}3`, 300]);
};

/** The passing loop with every block divided into three sections, so that a tail is proven clear of the turnouts. */
export const dividedLoop = (more: Partial<LayoutFile> = {}): LayoutFile => {
  const loop = passingLoop(more);
  const elements = loop.elements.map((element) =>
    element.kind === 'block'
      ? block(element.id, lengthOf(element), { detection: divided(element.id, lengthOf(element)) })
      : element,
  );
  return layoutOf(
    elements,
    loop.joins.map((pair) => pair.join(' ')),
    { stations: loop.stations, ...more },
  );
};

const lengthOf = ({ detection }: BlockFile): number =>
  detection.reduce((sum, { length }) => sum + length, 0);

/** On the passing loop P (700 mm, locomotive 3) goes from West to East, G (440 mm, silent) from East to West. */
export const crossing = (): TimetableFile =>
  timetableOf(
    [
      service('P1', 'West - 09:05', 'Loop 09:10 09:12', 'East 09:20 -'),
      service('G1', 'East - 09:05', 'Loop 09:10 09:12', 'West 09:20 -'),
    ],
    { P: 'P1', G: 'G1' },
    { P: 'W>b', G: 'E>b' },
  );

/** T confirmed in A on the line, the session running, its departure at 09:01 due after 10 s. */
export function runningLine(
  layout = line(),
  stock = oneTrain(),
  timetable = thereAndBack(),
): SessionDriver {
  const driver = new SessionDriver(layout, stock, timetable);
  driver.lineUp('a2');
  driver.report('a2', 3);
  expectNull(driver.command({ kind: 'confirm-place', train: 0, heading: driver.heading('A>b') }));
  expectNull(driver.command({ kind: 'start' }));
  return driver;
}

/** P confirmed in W and G in E on the passing loop, not started yet. */
export function linedUpCrossing(layout = dividedLoop(), stock = twoTrains()): SessionDriver {
  const driver = new SessionDriver(layout, stock, crossing());
  driver.lineUp('w2', 'w3', 'e1', 'e2');
  expectNull(driver.command({ kind: 'confirm-place', train: 0, heading: driver.heading('W>b') }));
  expectNull(driver.command({ kind: 'confirm-place', train: 1, heading: driver.heading('E>b') }));
  return driver;
}

/** The same, running. */
export function runningCrossing(layout = dividedLoop(), stock = twoTrains()): SessionDriver {
  const driver = linedUpCrossing(layout, stock);
  expectNull(driver.command({ kind: 'start' }));
  return driver;
}

function expectNull(refused: string | null): void {
  if (refused !== null) throw new Error(`refused: ${refused}`);
}

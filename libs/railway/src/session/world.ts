import { compileLayout } from '../layout/compile-layout.js';
import type { LayoutFile } from '../layout/layout-file.js';
import type { Layout } from '../layout/layout.js';
import { runningModel, type RunningModel } from '../movement/reckoning.js';
import type { SafetyProblem } from '../dispatching/safety-problem.js';
import { noAddedWork, type AddedWork } from '../timetable/added-work.js';
import { compileStock } from '../stock/compile-stock.js';
import type { StockFile } from '../stock/stock-file.js';
import type { Stock } from '../stock/train.js';
import { compileTimetable } from '../timetable/compile-timetable.js';
import type { TimetableFile } from '../timetable/timetable-file.js';
import type { Timetable } from '../timetable/timetable.js';
import { modelSpeed } from '../scale-speed.js';
import { WorkBook } from '../timetable/work-book.js';
import type { WorkingGraph } from '../timetable/working-graph.js';
import { kmPerH, ms, type MillimetresPerSecond } from '../units.js';

/** Longest time from a decision to its effect on a motor: engine, command station, decoder; common practice, no source. */
const COMMAND_DELAY = ms(150);

/** Restricted speed: slow enough to stop short of what a driver sees; the figure is common practice, no source. */
const RESTRICTED = kmPerH(25);

/**
 * What a session is worked by: the three files, compiled, and what follows from them. Nothing of it changes in a session but the work
 * in force, which follows from the files and from what the state says was added to them: see {@link useWork}.
 */
export interface World {
  readonly layout: Layout;
  readonly stock: Stock;
  /** The work in force: the timetable with what was added. */
  timetable: Timetable;
  /** By train: its work as a graph of places. */
  graphs: readonly WorkingGraph[];
  safety: SafetyProblem;
  /** What was added in the work in force. */
  added: AddedWork;
  readonly book: WorkBook;
  /** By train: how it runs, with bounds. */
  readonly models: readonly RunningModel[];
  /** Reversing sections, as element indexes. */
  readonly reversing: readonly number[];
  /** At which a train may run where something may stand after all, mm/s. */
  readonly restrictedSpeed: MillimetresPerSecond;
  /** By heading: how far before the end ahead a vehicle would foul what is joined there, mm. */
  readonly foulingAhead: readonly number[];
}

/** Least distance of a train's head from the end of the block it has authority to, mm. */
const LEAST_OVERHANG = 10;

/** Compiles three valid files that belong together; `layout`: the first, where it is compiled already. */
export function compileWorld(
  layoutFile: LayoutFile,
  stockFile: StockFile,
  timetableFile: TimetableFile,
  layout: Layout = compileLayout(layoutFile),
): World {
  const stock = compileStock(stockFile);
  const timetable = compileTimetable(timetableFile, layout, stock);
  const book = new WorkBook(layout, stock, timetable);
  return {
    layout,
    stock,
    ...book.booked,
    added: noAddedWork(),
    book,
    models: stock.trains.map((train) => runningModel(train, COMMAND_DELAY)),
    reversing: layout.elements.flatMap(({ kind, index }) => (kind === 'polarity' ? [index] : [])),
    restrictedSpeed: modelSpeed(RESTRICTED, layoutFile.scaleRatio),
    foulingAhead: layout.blockSteps.map((_, heading) => foulingAhead(layout, heading)),
  };
}

/**
 * Puts the work in force that a state says was added. The engine does so before every step; whoever reads a world by a state that no
 * step was taken from does it, too.
 */
export function useWork(world: World, added: AddedWork): void {
  if (world.added === added) return;
  Object.assign(world, world.book.with(added), { added });
}

function foulingAhead(layout: Layout, heading: number): number {
  const fouling = (layout.routesFrom[heading] ?? []).map(
    (route) => layout.routes[route]!.steps[0]!.leg.foulingBeyondFrom,
  );
  return Math.max(LEAST_OVERHANG, ...fouling);
}

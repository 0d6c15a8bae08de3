import { compileLayout } from '../layout/compile-layout.js';
import { resourceCount } from '../interlocking/trail.js';
import type { LayoutFile } from '../layout/layout-file.js';
import type { Layout } from '../layout/layout.js';
import { runningModel, type RunningModel } from '../movement/reckoning.js';
import type { SafetyProblem } from '../dispatching/safety-problem.js';
import { compileStock } from '../stock/compile-stock.js';
import type { StockFile } from '../stock/stock-file.js';
import type { Stock } from '../stock/train.js';
import { compileTimetable } from '../timetable/compile-timetable.js';
import type { TimetableFile } from '../timetable/timetable-file.js';
import { DistanceTables } from '../timetable/distance-tables.js';
import type { Timetable } from '../timetable/timetable.js';
import { modelSpeed } from '../scale-speed.js';
import { WorkingGraph } from '../timetable/working-graph.js';
import { kmPerH, ms, type MillimetresPerSecond } from '../units.js';

/** Longest time from a decision to its effect on a motor: engine, command station, decoder; common practice, no source. */
const COMMAND_DELAY = ms(150);

/** Restricted speed: slow enough to stop short of what a driver sees; the figure is common practice, no source. */
const RESTRICTED = kmPerH(25);

/** All that does not change in a session: the three files, compiled, and what follows from them. */
export interface World {
  readonly layout: Layout;
  readonly stock: Stock;
  readonly timetable: Timetable;
  /** By train: its work as a graph of places. */
  readonly graphs: readonly WorkingGraph[];
  readonly safety: SafetyProblem;
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
  const tables = new DistanceTables(layout);
  const graphs = stock.trains.map((train, index) => {
    const working = timetable.workings[index] ?? null;
    const start = timetable.storedPlaces[index] ?? null;
    return new WorkingGraph({ layout, train, timetable, working, start, tables });
  });
  return {
    layout,
    stock,
    timetable,
    graphs,
    safety: { resourceCount: resourceCount(layout), trains: graphs },
    models: stock.trains.map((train) => runningModel(train, COMMAND_DELAY)),
    reversing: layout.elements.flatMap(({ kind, index }) => (kind === 'polarity' ? [index] : [])),
    restrictedSpeed: modelSpeed(RESTRICTED, layoutFile.scaleRatio),
    foulingAhead: layout.blockSteps.map((_, heading) => foulingAhead(layout, heading)),
  };
}

function foulingAhead(layout: Layout, heading: number): number {
  const fouling = (layout.routesFrom[heading] ?? []).map(
    (route) => layout.routes[route]!.steps[0]!.leg.foulingBeyondFrom,
  );
  return Math.max(LEAST_OVERHANG, ...fouling);
}

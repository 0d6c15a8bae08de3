import {
  compileLayout,
  compileStock,
  contentHash,
  routeText,
  type Layout,
  type Route,
  type Train,
} from '@blockbell/railway';
import { trainFor } from './choose-train.js';
import { coverageOf } from './coverage.js';
import { endName } from './end-name.js';
import { layOut, type TrialRailway } from './trial-railway.js';
import { tryRoute, type TriedRoute } from './try-route.js';
import type { RouteTrial, TrialFault, TrialProgress, TrialReport, TrialSetup } from './trial.js';

/** A route with the train that tries it. */
interface Task {
  readonly route: Route;
  readonly train: Train;
}

/**
 * Tries every route asked for in simulation. A train that has come to the end of one goes on with one that begins there;
 * where none is left, or something went wrong, a train is set on the track anew. Tells of every route tried; whoever answers
 * with true breaks it off, and gets the report so far. Throws when a route or train of the setup is not there: see
 * {@link unknownIn}.
 */
export function* runTrial(
  setup: TrialSetup,
): Generator<TrialProgress, TrialReport, boolean | undefined> {
  const unknown = unknownIn(setup);
  if (unknown !== null) throw new Error(unknown);
  const layout = compileLayout(setup.layout);
  const { tasks, unfit } = assign(setup, layout);
  const results = new Map<number, RouteTrial>(unfit.map(([route, trial]) => [route, trial]));
  const of = tasks.size + results.size;
  let wanted = true;
  for (const first of tasks.values()) {
    if (!wanted) break;
    for (let ride: Ride | null = rideFrom(setup, layout, first); ride !== null && wanted;) {
      const { task, railway }: Ride = ride;
      const tried: TriedRoute =
        'text' in railway ? notReady(railway) : tryRoute(railway, task.route);
      const last = { ...headOf(layout, task.route), train: task.train.file.label, ...tried };
      results.set(task.route.index, last);
      tasks.delete(task.route.index);
      wanted = (yield { done: results.size, of, last }) !== true;
      ride =
        'text' in railway || tried.outcome !== 'passed'
          ? null
          : rideOn(tasks, layout, task, railway);
    }
  }
  for (const { route, train } of tasks.values()) {
    results.set(route.index, brokenOff(layout, route, train));
  }
  return report(setup, layout, results, wanted);
}

/** A route or a train that the setup names and the files don't have, in a sentence; null: all are there. */
export function unknownIn({ layout, stock, routes, train }: TrialSetup): string | null {
  if (train !== undefined && !stock.trains.some(({ id }) => id === train)) {
    const known = stock.trains.map(({ id }) => id).join(', ');
    return `The rolling stock has no train ${train}. Its trains: ${known || 'none'}.`;
  }
  if (stock.trains.length === 0) return 'The rolling stock has no train to try a route with.';
  if (routes === undefined) return null;
  const known = new Set(compileLayout(layout).routes.map(({ id }) => id));
  const missing = routes.filter((id) => !known.has(id));
  if (missing.length === 0) return null;
  return `The layout has no route ${missing.join(', ')}.`;
}

function assign(
  { stock: stockFile, routes, train: only }: TrialSetup,
  layout: Layout,
): { tasks: Map<number, Task>; unfit: [number, RouteTrial][] } {
  const { trains } = compileStock(stockFile);
  const willing = only === undefined ? trains : trains.filter(({ file }) => file.id === only);
  const tasks = new Map<number, Task>();
  const unfit: [number, RouteTrial][] = [];
  for (const route of layout.routes) {
    if (routes !== undefined && !routes.includes(route.id)) continue;
    const train = trainFor(layout, willing, route);
    if ('why' in train) unfit.push([route.index, notRun(layout, route, null, train.why)]);
    else tasks.set(route.index, { route, train });
  }
  return { tasks, unfit };
}

interface Ride {
  readonly task: Task;
  readonly railway: TrialRailway | TrialFault;
}

const rideFrom = (setup: TrialSetup, layout: Layout, task: Task): Ride => ({
  task,
  railway: layOut(setup, layout, task.train, task.route.from),
});

/** The next route for a train that has come to the end of one; null: none that is left begins there. */
function rideOn(
  tasks: ReadonlyMap<number, Task>,
  layout: Layout,
  { route, train }: Task,
  railway: TrialRailway,
): Ride | null {
  for (const index of layout.routesFrom[route.to] ?? []) {
    const task = tasks.get(index);
    if (task?.train === train) return { task, railway };
  }
  return null;
}

const headOf = (
  layout: Layout,
  route: Route,
): Pick<RouteTrial, 'route' | 'name' | 'from' | 'to'> => ({
  route: route.id,
  name: routeText(layout, route),
  from: endName(layout, route.from),
  to: endName(layout, route.to),
});

const UNTRIED = {
  notes: [],
  took: null,
  short: null,
  aspect: null,
  drives: [],
  sections: [],
} as const;

const notReady = (fault: TrialFault): TriedRoute => ({ outcome: 'failed', fault, ...UNTRIED });

const notRun = (layout: Layout, route: Route, train: string | null, why: string): RouteTrial => ({
  ...headOf(layout, route),
  train,
  outcome: 'not-run',
  fault: { text: why, mend: null },
  ...UNTRIED,
});

const brokenOff = (layout: Layout, route: Route, { file }: Train): RouteTrial =>
  notRun(layout, route, file.label, 'The trial was broken off before.');

function report(
  setup: TrialSetup,
  layout: Layout,
  results: ReadonlyMap<number, RouteTrial>,
  whole: boolean,
): TrialReport {
  const trials = [...results].sort(([a], [b]) => a - b).map(([, trial]) => trial);
  const count = (outcome: RouteTrial['outcome']): number =>
    trials.filter((trial) => trial.outcome === outcome).length;
  return {
    layout: { name: setup.layout.name, hash: contentHash(setup.layout) },
    seed: setup.seed,
    trials,
    passed: count('passed'),
    failed: count('failed'),
    notRun: count('not-run'),
    coverage: coverageOf(layout, trials),
    whole,
  };
}

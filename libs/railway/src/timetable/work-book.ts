import { resourceCount } from '../interlocking/trail.js';
import type { SafetyProblem } from '../dispatching/safety-problem.js';
import type { Layout } from '../layout/layout.js';
import type { Stock } from '../stock/train.js';
import { noAddedWork, type AddedWork } from './added-work.js';
import { DistanceTables } from './distance-tables.js';
import type { Timetable } from './timetable.js';
import { withAdded } from './with-added.js';
import { WorkingGraph } from './working-graph.js';

/** The work of all trains, compiled. */
export interface Work {
  readonly timetable: Timetable;
  /** By train: its work as a graph of places. */
  readonly graphs: readonly WorkingGraph[];
  readonly safety: SafetyProblem;
}

/**
 * The work of a session's trains as the timetable has it, and as it is with what was added. The same additions give the same graphs
 * again, with the numbers that their nodes have; a train whose work stays the same keeps its graph.
 */
export class WorkBook {
  readonly booked: Work;
  readonly tables: DistanceTables;
  readonly #known = new Map<string, Work>();
  readonly #graphs = new Map<string, WorkingGraph>();

  constructor(
    private readonly layout: Layout,
    private readonly stock: Stock,
    timetable: Timetable,
  ) {
    this.tables = new DistanceTables(layout);
    this.booked = this.#compile(timetable, noAddedWork());
    this.#known.set(keyOf(noAddedWork()), this.booked);
  }

  /** The work with what was added. */
  with(added: AddedWork): Work {
    const key = keyOf(added);
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const timetable = withAdded(this.booked.timetable, added, this.layout, this.stock);
    const work = this.#compile(timetable, added);
    this.#known.set(key, work);
    return work;
  }

  /** What was refused is not kept. */
  forget(added: AddedWork): void {
    const key = keyOf(added);
    const kept = [...this.#known].filter(([at]) => at !== key).flatMap(([, { graphs }]) => graphs);
    this.#known.delete(key);
    for (const [at, graph] of this.#graphs) if (!kept.includes(graph)) this.#graphs.delete(at);
  }

  #compile(timetable: Timetable, added: AddedWork): Work {
    const graphs = this.stock.trains.map((train, index) => {
      const working = timetable.workings[index] ?? null;
      const own = added.services.filter((it) => it.train === index).map(({ file }) => file);
      const moved = added.elsewhere
        .filter((it) => it.train === index)
        .map(({ service, call, station }) => [service, call, station]);
      const key = JSON.stringify([index, working?.services ?? [], own, moved]);
      const known = this.#graphs.get(key);
      if (known !== undefined) return known;
      const start = timetable.storedPlaces[index] ?? null;
      const { layout, tables } = this;
      const graph = new WorkingGraph({ layout, train, timetable, working, start, tables });
      this.#graphs.set(key, graph);
      return graph;
    });
    const safety = { resourceCount: resourceCount(this.layout), trains: graphs };
    return { timetable, graphs, safety };
  }
}

const keyOf = ({ services, workings, elsewhere }: AddedWork): string =>
  JSON.stringify([services, workings, elsewhere]);

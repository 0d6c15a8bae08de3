import { availableParallelism } from 'node:os';
import type { RehearsedView } from '@blockbell/contract';
import { compileWorld } from '@blockbell/railway';
import {
  buildReport,
  commonStops,
  comparedRows,
  compareResults,
  comparisonTable,
  PICTURES,
  rehearseMany,
  reportPage,
  reportTables,
  summaryRows,
  type Comparison,
  type RehearsalPlan,
  type RehearsalReport,
} from '@blockbell/rehearsals';

export interface RehearsalsAsked {
  /** One way, or two to compare. */
  readonly plans: readonly RehearsalPlan[];
  readonly sessions: number;
  readonly seed: number;
}

/** What a lot came to, as it is shown and handed out: whoever keeps it has nothing left to work out. */
export interface WrittenReport {
  readonly first: RehearsedView;
  readonly second: RehearsedView | null;
  readonly comparison: ReturnType<typeof comparedRows> | null;
  /** What could not be rehearsed, as a sentence; null: nothing. */
  readonly why: string | null;
  /** Texts by name: `report.json`, `report.html`, `first/pictures/track.svg`, `second/tables/services.csv`. */
  readonly texts: Readonly<Record<string, string>>;
}

export type ToRehearser =
  { readonly kind: 'begin'; readonly asked: RehearsalsAsked } | { readonly kind: 'break-off' };

export type FromRehearser =
  | { readonly kind: 'rehearsed'; readonly done: number }
  | { readonly kind: 'report'; readonly report: WrittenReport }
  | { readonly kind: 'failed'; readonly why: string };

/** The threads stand back for whatever else the machine does; one processor is left to those that run trains. */
const NICE = 19;
const WORKERS = Math.max(1, availableParallelism() - 1);
const WAYS = ['first', 'second'];

/** Has one lot of sessions rehearsed and writes its report, wherever it runs. */
export class RehearsalWork {
  readonly #breakOff = new AbortController();

  constructor(private readonly tell: (message: FromRehearser) => void) {}

  take(message: ToRehearser): void {
    if (message.kind === 'break-off') this.#breakOff.abort();
    else
      this.#run(message.asked).then(
        (report) => this.tell({ kind: 'report', report }),
        (error: unknown) =>
          this.tell({
            kind: 'failed',
            why: error instanceof Error ? error.message : String(error),
          }),
      );
  }

  async #run({ plans, sessions, seed }: RehearsalsAsked): Promise<WrittenReport> {
    const { results, failed } = await rehearseMany({
      plans,
      sessions,
      seed,
      workers: WORKERS,
      nice: NICE,
      signal: this.#breakOff.signal,
      tell: ({ done }) => this.tell({ kind: 'rehearsed', done }),
    });
    const worlds = plans.map((it) => compileWorld(it.layout, it.stock, it.timetable));
    const reports = plans.map((plan, way) =>
      buildReport(plan, worlds[way]!, results[way]!, sessions),
    );
    const comparison =
      plans.length < 2
        ? null
        : compareResults(results[0]!, results[1]!, commonStops(worlds[0]!, worlds[1]!));
    const [first] = failed;
    const why =
      first === undefined
        ? null
        : `${failed.length} of ${sessions * plans.length} sessions could not be rehearsed, the first with seed ${first.seed}: ${first.why}. The others are reported.`;
    return written(plans, reports, comparison, why);
  }
}

function written(
  plans: readonly RehearsalPlan[],
  reports: readonly RehearsalReport[],
  comparison: Comparison | null,
  why: string | null,
): WrittenReport {
  const [report, against = null] = reports;
  const texts: Record<string, string> = {
    'report.json': JSON.stringify({ report, against, comparison }),
    'report.html': reportPage(plans[0]!.layout, report!, against, comparison),
  };
  for (const [way, each] of reports.entries()) {
    const folder = WAYS[way]!;
    for (const [name, { draw }] of Object.entries(PICTURES))
      texts[`${folder}/pictures/${name}.svg`] = draw(each, plans[way]!.layout);
    for (const [file, table] of Object.entries(reportTables(each)))
      texts[`${folder}/tables/${file}`] = table;
    if (comparison !== null) texts[`${folder}/tables/comparison.csv`] = comparisonTable(comparison);
  }
  return {
    first: viewOf(report!),
    second: against === null ? null : viewOf(against),
    comparison: comparison === null ? null : comparedRows(comparison),
    why,
    texts,
  };
}

const viewOf = (report: RehearsalReport): RehearsedView => ({
  title: `${report.railway}, ${report.timetable}`,
  rows: summaryRows(report),
  pictures: Object.entries(PICTURES).map(([name, { title }]) => ({ name, title })),
  tables: Object.keys(reportTables(report)).map((file) => file.replace('.csv', '')),
});

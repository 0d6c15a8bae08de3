import { availableParallelism } from 'node:os';
import { Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { RehearsalsView, RehearsedView } from '@blockbell/contract';
import { compileWorld, refusal } from '@blockbell/railway';
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
  type RehearsalPlan,
  type RehearsalReport,
} from '@blockbell/rehearsals';
import { RefusalException } from '../refusal/refusal.exception.js';

export interface RehearsalsAsked {
  /** One way, or two to compare. */
  readonly plans: readonly RehearsalPlan[];
  readonly sessions: number;
  readonly seed: number;
}

/** Rehearsals, from their beginning until the next begin. */
interface Rehearsals extends RehearsalsAsked {
  readonly number: number;
  readonly began: number;
  readonly of: number;
  readonly breakOff: AbortController;
  done: number;
  /** Real ms at which they ended; null while they go on. */
  ended: number | null;
  why: string | null;
  reports: readonly RehearsalReport[];
  comparison: ReturnType<typeof compareResults> | null;
}

/** The threads stand back for whatever else the machine does; one processor is left to those that run trains. */
const NICE = 19;
const WORKERS = Math.max(1, availableParallelism() - 1);

/** Has sessions rehearsed in threads of low priority, one lot at a time; the last lot's report is kept until the next begins. */
@Injectable()
export class RehearsalDesk implements OnModuleDestroy {
  #last: Rehearsals | null = null;

  begin(asked: RehearsalsAsked): void {
    if (this.#last !== null && this.#last.ended === null) {
      throw new RefusalException(409, ONE_AT_A_TIME);
    }
    const lot: Rehearsals = {
      ...asked,
      number: (this.#last?.number ?? 0) + 1,
      began: performance.now(),
      of: asked.sessions * asked.plans.length,
      breakOff: new AbortController(),
      done: 0,
      ended: null,
      why: null,
      reports: [],
      comparison: null,
    };
    this.#last = lot;
    void this.#run(lot);
  }

  /** Breaks off those that go on; what was run until then is reported soon after. */
  breakOff(): void {
    if (this.#last === null || this.#last.ended !== null) {
      throw new RefusalException(409, NONE_GO_ON);
    }
    this.#last.breakOff.abort();
  }

  view(): RehearsalsView['rehearsals'] {
    const lot = this.#last;
    if (lot === null) return null;
    const took = (lot.ended ?? performance.now()) - lot.began;
    const left =
      lot.ended !== null || lot.done === 0 ? null : (took / lot.done) * (lot.of - lot.done);
    return {
      state: lot.ended === null ? 'running' : lot.reports.length > 0 ? 'ended' : 'lost',
      done: lot.done,
      of: lot.of,
      took,
      left,
      why: lot.why,
      first: viewOf(lot.reports[0]),
      second: viewOf(lot.reports[1]),
      comparison: lot.comparison === null ? null : comparedRows(lot.comparison),
      files: lot.number,
    };
  }

  /** The whole report, for programs. */
  report(): object {
    const [first, second] = this.#ended().reports;
    return { report: first, against: second ?? null, comparison: this.#ended().comparison };
  }

  /** The report as a page to print. */
  page(): string {
    const { plans, reports, comparison } = this.#ended();
    return reportPage(plans[0]!.layout, reports[0]!, reports[1] ?? null, comparison);
  }

  /** A picture of the first way or the second, as SVG. */
  picture(way: number, name: string): string {
    const { plans, reports } = this.#ended();
    const drawn = Object.hasOwn(PICTURES, name) ? PICTURES[name] : undefined;
    if (drawn === undefined || reports[way] === undefined) throw new RefusalException(404, NO_SUCH);
    return drawn.draw(reports[way], plans[way]!.layout);
  }

  /** A table of the first way or the second, as CSV; `comparison` of both. */
  table(way: number, name: string): string {
    const { reports, comparison } = this.#ended();
    if (name === 'comparison' && comparison !== null) return comparisonTable(comparison);
    const tables = reports[way] === undefined ? {} : reportTables(reports[way]);
    const table = tables[`${name}.csv`];
    if (table === undefined) throw new RefusalException(404, NO_SUCH);
    return table;
  }

  onModuleDestroy(): void {
    this.#last?.breakOff.abort();
  }

  #ended(): Rehearsals {
    if (this.#last === null || this.#last.reports.length === 0) {
      throw new RefusalException(404, NOTHING_YET);
    }
    return this.#last;
  }

  async #run(lot: Rehearsals): Promise<void> {
    const { plans, sessions, seed, breakOff } = lot;
    try {
      const { results, failed } = await rehearseMany({
        plans,
        sessions,
        seed,
        workers: WORKERS,
        nice: NICE,
        signal: breakOff.signal,
        tell: ({ done }) => {
          lot.done = done;
        },
      });
      const worlds = plans.map((it) => compileWorld(it.layout, it.stock, it.timetable));
      lot.reports = plans.map((plan, way) =>
        buildReport(plan, worlds[way]!, results[way]!, sessions),
      );
      lot.comparison =
        plans.length < 2
          ? null
          : compareResults(results[0]!, results[1]!, commonStops(worlds[0]!, worlds[1]!));
      const [first] = failed;
      if (first !== undefined)
        lot.why = `${failed.length} of ${lot.of} sessions could not be rehearsed, the first with seed ${first.seed}: ${first.why}. The others are reported.`;
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      lot.why = `The rehearsals ended before their time: ${why}. Begin them again.`;
    }
    lot.ended = performance.now();
  }
}

const viewOf = (report: RehearsalReport | undefined): RehearsedView | null =>
  report === undefined
    ? null
    : {
        title: `${report.railway}, ${report.timetable}`,
        rows: summaryRows(report),
        pictures: Object.entries(PICTURES).map(([name, { title }]) => ({ name, title })),
        tables: Object.keys(reportTables(report)).map((file) => file.replace('.csv', '')),
      };

const ONE_AT_A_TIME = refusal(
  'rehearsals-go-on',
  'Sessions are being rehearsed already. Wait for the end, or break them off.',
);
const NONE_GO_ON = refusal('no-rehearsals', 'No rehearsals go on.');
const NOTHING_YET = refusal(
  'no-report',
  'There is no report of rehearsals yet. Begin some, and wait for their end.',
);
const NO_SUCH = refusal('unknown', 'The report has no such picture or table.');

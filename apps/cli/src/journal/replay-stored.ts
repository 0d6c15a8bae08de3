import {
  countBatches,
  engineVersion,
  lastThatCounts,
  seedOf,
  SessionReplay,
} from '@blockbell/journal';
import {
  compileWorld,
  contentHash,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import type { StoredJournal, StoredRun } from './stored-journal.js';

/** One opening of a session, run again. */
export interface ReplayedRun {
  readonly run: number;
  readonly engine: string;
  readonly inputs: number;
  readonly batches: number;
  /** Batches at its end that the next opening left out. */
  readonly leftOut: number;
  /** The first batch that led to other effects; null: none. */
  readonly differs: number | null;
  /** The last batch before the journal is torn; null: it is whole. */
  readonly tornAfter: number | null;
  /** How its end compares with the state that was stored; null: none was, or not all of the run holds. */
  readonly sameEnd: boolean | null;
  readonly digest: string;
}

/** Runs a stored session again, across its restarts, until it ends, differs or is torn. */
export async function* replayStored(
  journal: StoredJournal,
  session: number,
  files: {
    readonly layout: LayoutFile;
    readonly stock: StockFile;
    readonly timetable: TimetableFile;
  },
): AsyncGenerator<ReplayedRun> {
  const runs = await journal.runs(session);
  const world = compileWorld(files.layout, files.stock, files.timetable);
  const faults = JSON.parse(runs[0]?.faults ?? '[]') as readonly Fault[];
  const replay = SessionReplay.begin(world, seedOf(session), faults);
  for (const run of runs) {
    const last = lastThatCounts(runs, run.run);
    const replayed = await replayRun(journal, session, replay, run, last);
    yield replayed;
    if (replayed.differs !== null || replayed.tornAfter !== null) return;
  }
}

async function replayRun(
  journal: StoredJournal,
  session: number,
  replay: SessionReplay,
  { run, engine, digest }: StoredRun,
  last: number,
): Promise<ReplayedRun> {
  const stored = await journal.batches(session, run);
  const { counted, leftOut, tornAfter } = countBatches(stored, -1, last);
  replay.beginRun(session, run);
  let inputs = 0;
  let differs: number | null = null;
  for (const batch of counted) {
    inputs += batch.inputs.length;
    if (replay.feed(batch)) continue;
    differs = batch.batch;
    break;
  }
  const end = contentHash(replay.state);
  const isWhole = differs === null && tornAfter === null && leftOut === 0;
  return {
    run,
    engine,
    inputs,
    batches: counted.length,
    leftOut,
    differs,
    tornAfter,
    sameEnd: digest === null || !isWhole ? null : digest === end,
    digest: end,
  };
}

/** Versions other than this program's that ran it. */
export const otherVersions = (runs: readonly ReplayedRun[]): string[] => [
  ...new Set(runs.map(({ engine }) => engine).filter((engine) => engine !== engineVersion())),
];

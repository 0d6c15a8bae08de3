import {
  countBatches,
  lastThatCounts,
  seedOf,
  SessionReplay,
  tornText,
  type ReplayedBatch,
} from '@blockbell/journal';
import type { World } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import type { JournalBatch } from '../storage/journal-batch.entity.js';
import type { SessionRun } from '../storage/session-run.entity.js';
import type { SessionSnapshot } from '../storage/session-snapshot.entity.js';

/** What is stored of a session that was not ended. */
export interface StoredJournal {
  /** In order; empty when an older version kept it. */
  readonly runs: readonly SessionRun[];
  /** The newest first. */
  readonly snapshots: readonly SessionSnapshot[];
  batchesOf(run: number, after: number): Promise<readonly JournalBatch[]>;
}

export type TakenUp =
  | {
      readonly ok: true;
      readonly replay: SessionReplay;
      readonly seed: number;
      readonly faults: readonly Fault[];
      /** The last batch of the last run that holds. */
      readonly takenUpTo: number;
      /** What was left out, as a sentence; null: nothing. */
      readonly lost: string | null;
    }
  /** It can't be rebuilt, and why. */
  | { readonly ok: false; readonly why: string };

/**
 * Rebuilds a session from its newest snapshot and the journal after it, on worlds compiled for it, checking every batch
 * against what was written with it. A tail of the last run that is torn or differs is left out; an earlier run that is torn
 * before what the next went on from can't be rebuilt. Another engine version's journal is not tried.
 */
export async function takeUp(
  stored: StoredJournal,
  engine: string,
  compile: () => World,
): Promise<TakenUp> {
  const { runs } = stored;
  const last = runs.at(-1);
  if (last === undefined) return fail('its journal was kept by a version that named no engine');
  const other = runs.find((run) => run.engine !== engine);
  if (other !== undefined)
    return fail(`its journal is of engine version ${other.engine}, and this is ${engine}`);
  const seed = seedOf(last.session);
  const faults = JSON.parse(runs[0]!.faults) as readonly Fault[];
  const base = baseOf(stored, engine);
  let until = Infinity;
  for (;;) {
    const replay = open(base, compile(), seed, faults);
    const came = await follow(stored, base, replay, until);
    if (came.torn && came.run !== last.run)
      return fail(
        `its journal is torn after batch ${came.batch} of run ${came.run}, which run ${came.run + 1} went on from`,
      );
    if (came.differs === null)
      return {
        ok: true,
        replay,
        seed,
        faults,
        takenUpTo: came.batch,
        lost: lostAfter(came, until),
      };
    if (came.run !== last.run)
      return fail(`its effects differ from those written down (run ${came.run})`);
    // What differed has been fed: once more, up to the batch before it.
    until = came.differs;
  }
}

type Base = SessionSnapshot | null;

/** The newest snapshot that lies on what the last run goes on from. */
function baseOf({ runs, snapshots }: StoredJournal, engine: string): Base {
  const isOnTheWay = ({ run, batch }: SessionSnapshot): boolean =>
    batch <= lastThatCounts(runs, run);
  return snapshots.find((each) => each.engine === engine && isOnTheWay(each)) ?? null;
}

function open(base: Base, world: World, seed: number, faults: readonly Fault[]): SessionReplay {
  if (base === null) return SessionReplay.begin(world, seed, faults);
  return SessionReplay.restore(world, seed, { engine: base.state, layout: base.layout });
}

interface Came {
  readonly run: number;
  /** The last batch fed; -1: none of this run. */
  readonly batch: number;
  /** The batch whose effects differ; null: none. */
  readonly differs: number | null;
  readonly torn: boolean;
}

async function follow(
  { runs, batchesOf }: StoredJournal,
  base: Base,
  replay: SessionReplay,
  until: number,
): Promise<Came> {
  let came: Came = { run: 0, batch: -1, differs: null, torn: false };
  const newest = runs.at(-1)?.run;
  for (const { session, run } of runs.filter((each) => each.run >= (base?.run ?? 1))) {
    const from = base?.run === run ? base.batch : -1;
    if (base?.run === run) replay.goOnFrom(base.chain);
    else replay.beginRun(session, run);
    const end = Math.min(lastThatCounts(runs, run), run === newest ? until - 1 : Infinity);
    const { counted, tornAfter } = countBatches(await batchesOf(run, from), from, end);
    came = { run, batch: from, differs: null, torn: tornAfter !== null };
    for (const batch of counted) {
      if (!feeds(replay, batch)) return { ...came, differs: batch.batch };
      came = { ...came, batch: batch.batch };
    }
    if (came.torn) return came;
  }
  return came;
}

/** An input that the engine stumbles over is not the one it was given. */
function feeds(replay: SessionReplay, batch: ReplayedBatch): boolean {
  try {
    return replay.feed(batch);
  } catch {
    return false;
  }
}

function lostAfter({ run, batch, torn }: Came, until: number): string | null {
  if (torn && until === Infinity) return tornText(run, batch);
  if (until === Infinity) return null;
  return `From batch ${until} on the journal does not lead to what was written with it; that is left out.`;
}

const fail = (why: string): TakenUp => ({ ok: false, why });

import { cpSync } from 'node:fs';
import { engineVersion, seedOf } from '@blockbell/journal';
import { Rehearsal, ScriptedDispatcher, type RehearsalSetup } from '@blockbell/rehearsal';
import {
  checkTogether,
  DataFolder,
  Journal,
  JournalFollower,
} from '@blockbell/server/session-parts';
import { FedSession } from './fed-session.js';

/** Physical ms in one batch of the journal at most. */
const BATCH = 100;
const LOOK = 1000;
/** Each folder holds one session, opened once. */
const SESSION = 1;
const RUN = 1;

/** Two data folders with the same session, as a server that was killed would have left them. */
export interface StoredHour {
  /** Inputs of the journal, and of them those after the snapshot. */
  readonly inputs: number;
  readonly after: number;
}

/**
 * Runs a session for `length` physical ms and writes its journal as the server does at ×1: into `bare` without any snapshot, into
 * `kept` with one of `last` ms before the end.
 */
export async function storeHour(
  { layout, stock, timetable }: Omit<RehearsalSetup, 'seed'>,
  { length, last }: { readonly length: number; readonly last: number },
  { bare, kept }: { readonly bare: string; readonly kept: string },
): Promise<StoredHour> {
  const engine = engineVersion();
  const seed = seedOf(SESSION);
  const { journal: store, ...folder } = await openWith(bare, { layout, stock, timetable }, engine);
  const follower = new JournalFollower({
    layout,
    stock,
    timetable,
    session: SESSION,
    run: RUN,
    seed,
    faults: [],
    saved: null,
  });
  const sink: ConstructorParameters<typeof Journal>[0] = {
    write: async (rows) => {
      await store.write(rows);
      const { batch, inputs, chain } = rows.batch;
      if (follower.take({ kind: 'batch', batch, inputs, chain }) !== null)
        throw new Error(`Batch ${batch} is not the same when it is run again.`);
    },
  };
  const observer = {
    failing: (why: string): never => {
      throw new Error(`The journal can’t be written: ${why}`);
    },
    mended: () => {},
  };
  const journal = new Journal(sink, observer, SESSION, RUN);
  const rehearsal = new Rehearsal({ layout, stock, timetable, seed });
  const session = new FedSession(rehearsal.world, rehearsal.state, () => rehearsal.now, journal);
  const count = { inputs: 0, after: 0 };
  rehearsal.observe((_, input, { effects, changes }) => {
    count.inputs++;
    if (rehearsal.now > length - last) count.after++;
    session.stepped(input, effects, changes);
  });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const runTo = async (until: number): Promise<void> => {
    while (rehearsal.now < until) {
      rehearsal.runTo(rehearsal.now + BATCH);
      if (rehearsal.now % LOOK === 0) dispatcher.look();
      await journal.flush();
    }
  };
  await runTo(length - last);
  const snapshot = follower.take({ kind: 'snapshot' });
  await runTo(length);
  await journal.close();
  await folder.close();
  cpSync(bare, kept, { recursive: true });
  if (snapshot?.kind !== 'snapshot') throw new Error('There was nothing to make a snapshot of.');
  const { kind: _, ...saved } = snapshot;
  const again = await DataFolder.open(kept);
  await again.runs.saveSnapshot({ session: SESSION, run: RUN, engine, ...saved });
  await again.close();
  return count;
}

/** A new data folder with one session on these files. */
async function openWith(
  path: string,
  { layout, stock, timetable }: Omit<RehearsalSetup, 'seed'>,
  engine: string,
) {
  const checked = checkTogether({
    layout: JSON.stringify(layout),
    stock: JSON.stringify(stock),
    timetable: JSON.stringify(timetable),
  });
  if ('faults' in checked) throw new Error('The files of the benchmark have faults.');
  const folder = await DataFolder.open(path);
  await folder.begin(checked.stored, engine);
  return { journal: folder.journal, close: () => folder.close() };
}

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { Journal, openJournal } from '@blockbell/server/session-parts';
import { FedSession } from './fed-session.js';
import { numberText, type Benchmark } from './report.js';
import { demoSubject } from './subjects.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
/** Physical ms in one batch of the journal at most. */
const BATCH = 100;
const LOOK = 1000;

export const journalSize: Benchmark = {
  name: 'journal',
  async measure({ quick, tell }) {
    const minutes = quick ? 2 : 15;
    tell(`${minutes} minutes of the demo’s journal`);
    const folder = mkdtempSync(join(tmpdir(), 'blockbell-bench-'));
    try {
      const { bytes, inputs, batches, text } = await write(
        join(folder, 'journal.sqlite'),
        minutes * MINUTE,
      );
      const hourly = (value: number): string => numberText((value * HOUR) / (minutes * MINUTE));
      return {
        name: 'journal',
        title: 'Size of the journal',
        about:
          `The demo’s first ${minutes} minutes at ×1, written to a database as the server does, in batches of ${BATCH} ms, ` +
          'scaled to an hour of physical time.',
        columns: ['per physical hour', 'inputs', 'batches', 'JSON of inputs, MB', 'on disk, MB'],
        rows: [['demo, 16 trains', ...[inputs, batches, text / 1e6, bytes / 1e6].map(hourly)]],
        figures: [],
      };
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
};

interface Written {
  readonly bytes: number;
  readonly inputs: number;
  readonly batches: number;
  /** Bytes of the inputs alone. */
  readonly text: number;
}

async function write(file: string, until: number): Promise<Written> {
  const database = await openJournal(file);
  const empty = await database.bytes();
  const failed = (why: string): never => {
    throw new Error(`The journal can’t be written: ${why}`);
  };
  let batches = 0;
  let text = 0;
  const sink = {
    write: (rows: Parameters<typeof database.store.write>[0]) => {
      batches++;
      text += Buffer.byteLength(rows.batch.inputs);
      return database.store.write(rows);
    },
  };
  const journal = new Journal(sink, { failing: failed, mended: () => {} }, database.session, 1);
  const rehearsal = new Rehearsal(demoSubject());
  const session = new FedSession(rehearsal.world, rehearsal.state, () => rehearsal.now, journal);
  let inputs = 0;
  rehearsal.observe((_, input, { effects, changes }) => {
    inputs++;
    session.stepped(input, effects, changes);
  });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  while (rehearsal.now < until) {
    rehearsal.runTo(rehearsal.now + BATCH);
    if (rehearsal.now % LOOK === 0) dispatcher.look();
    await journal.flush();
  }
  await journal.close();
  const bytes = (await database.bytes()) - empty;
  await database.close();
  return { bytes, inputs, batches, text };
}

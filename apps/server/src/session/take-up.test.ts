import { seedOf, SessionReplay } from '@blockbell/journal';
import type { Input } from '@blockbell/railway';
import { expect, test } from 'vitest';
import type { JournalBatch } from '../storage/journal-batch.entity.js';
import type { SessionRun } from '../storage/session-run.entity.js';
import type { SessionSnapshot } from '../storage/session-snapshot.entity.js';
import { smallWorld } from '../testing/small-session.js';
import { takeUp, type StoredJournal } from './take-up.js';

const ENGINE = '1-test';

const command = (at: number, kind: 'power-up' | 'cut-power' | 'stop-all'): Input => ({
  at,
  kind: 'command',
  by: 'Ann',
  command: { kind },
});
const INPUTS: readonly Input[] = [
  command(10, 'power-up'),
  { at: 30, kind: 'device', event: { kind: 'power', district: 0, state: 'on' } },
  { at: 2010, kind: 'deadline' },
  command(3000, 'cut-power'),
  command(4000, 'power-up'),
];

/** A run with one input a batch, and the state after each. */
function written(): { batches: JournalBatch[]; states: string[]; snapshots: SessionSnapshot[] } {
  const replay = SessionReplay.begin(smallWorld(), seedOf(1), []);
  replay.beginRun(1, 1);
  const states: string[] = [];
  const snapshots: SessionSnapshot[] = [];
  const batches = INPUTS.map((input, batch) => {
    replay.feed({ inputs: [input], chain: '' });
    const { chain, state } = replay;
    states.push(JSON.stringify(state));
    const { engine, layout } = replay.save();
    const known = { session: 1, run: 1, batch, chain };
    const more = { engine: ENGINE, savedAt: '', places: '[]', state: engine, layout };
    snapshots.unshift({ ...known, ...more });
    return { ...known, revision: state.revision, inputs: JSON.stringify([input]) };
  });
  return { batches, states, snapshots };
}

const run = (more: Partial<SessionRun> = {}): SessionRun => ({
  session: 1,
  run: 1,
  openedAt: '',
  engine: ENGINE,
  takenUpTo: -1,
  faults: '[]',
  closedAt: null,
  digest: null,
  ...more,
});

/** Which batches were asked for is noted in `asked`. */
function stored(
  batches: readonly JournalBatch[],
  snapshots: readonly SessionSnapshot[] = [],
  asked: number[] = [],
): StoredJournal {
  return {
    runs: [run()],
    snapshots,
    batchesOf: (_, after) => {
      asked.push(after);
      return Promise.resolve(batches.filter(({ batch }) => batch > after));
    },
  };
}

const taken = async (journal: StoredJournal, engine = ENGINE) => {
  const result = await takeUp(journal, engine, () => smallWorld());
  return result.ok
    ? { state: JSON.stringify(result.replay.state), upTo: result.takenUpTo, lost: result.lost }
    : result.why;
};

test('a session is rebuilt from its journal', async () => {
  const { batches, states } = written();
  expect(await taken(stored(batches))).toEqual({ state: states[4], upTo: 4, lost: null });
});

test('a snapshot spares what came before it', async () => {
  const { batches, states, snapshots } = written();
  const asked: number[] = [];
  const result = await taken(stored(batches, snapshots.slice(2), asked));
  expect(result).toEqual({ state: states[4], upTo: 4, lost: null });
  expect(asked).toEqual([2]);
});

test('a torn tail is left out, and said', async () => {
  const { batches, states } = written();
  const torn = batches.map((batch) => (batch.batch === 3 ? { ...batch, inputs: '[{"at"' } : batch));
  expect(await taken(stored(torn))).toEqual({
    state: states[2],
    upTo: 2,
    lost: expect.stringContaining('torn after batch 2'),
  });
  expect(await taken(stored(batches.toSpliced(3, 1)))).toMatchObject({ upTo: 2 });
});

test('an earlier run that is torn before what the next went on from can’t be rebuilt, and where is said', async () => {
  const { batches } = written();
  const torn = batches.with(1, { ...batches[1]!, inputs: '[{"at"' });
  const journal: StoredJournal = {
    runs: [run(), run({ run: 2, takenUpTo: 3 })],
    snapshots: [],
    batchesOf: (of) => Promise.resolve(of === 1 ? torn : []),
  };
  expect(await taken(journal)).toBe(
    'its journal is torn after batch 0 of run 1, which run 2 went on from',
  );
});

test('a tail that leads elsewhere is left out, and said', async () => {
  const { batches, states } = written();
  const other = batches.map((batch) => (batch.batch === 4 ? { ...batch, chain: 'x' } : batch));
  expect(await taken(stored(other))).toEqual({
    state: states[3],
    upTo: 3,
    lost: expect.stringContaining('From batch 4 on'),
  });
});

test('the journal of another engine version, or of none, is not tried', async () => {
  const { batches } = written();
  expect(await taken(stored(batches), '2-test')).toContain('engine version 1-test');
  expect(await taken({ ...stored(batches), runs: [] })).toContain('named no engine');
});

test('a session that was taken up before the end of a run goes on from there', async () => {
  const { batches, states } = written();
  const second = SessionReplay.begin(smallWorld(), seedOf(1), []);
  for (const { inputs } of batches.slice(0, 3))
    second.feed({ inputs: JSON.parse(inputs), chain: '' });
  expect(JSON.stringify(second.state)).toBe(states[2]);
  second.beginRun(1, 2);
  const input: Input = { at: 2010, kind: 'started-again' };
  second.feed({ inputs: [input], chain: '' });
  const again = { session: 1, run: 2, batch: 0, revision: 0, chain: second.chain };
  const journal: StoredJournal = {
    runs: [run(), run({ run: 2, takenUpTo: 2 })],
    snapshots: [],
    batchesOf: (of) =>
      Promise.resolve(of === 1 ? batches : [{ ...again, inputs: JSON.stringify([input]) }]),
  };
  expect(await taken(journal)).toEqual({
    state: JSON.stringify(second.state),
    upTo: 0,
    lost: null,
  });
});

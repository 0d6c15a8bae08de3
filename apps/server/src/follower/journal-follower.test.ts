import { exampleFiles } from '@blockbell/examples';
import { SessionReplay } from '@blockbell/journal';
import type { Input } from '@blockbell/railway';
import { expect, test } from 'vitest';
import { checkTogether } from '../files/check-files.js';
import { JournalFollower, type FollowerStart, type ToFollower } from './journal-follower.js';

const checked = checkTogether(exampleFiles('passing-loop'));
if ('faults' in checked) throw new Error('the example has faults');
const { layout, stock, timetable, world } = checked.files;
const start: FollowerStart = {
  layout,
  stock,
  timetable,
  session: 1,
  run: 1,
  seed: 1001,
  faults: [],
  saved: null,
};
const inputs: readonly Input[] = [
  { at: 10, kind: 'command', by: 'Ann', command: { kind: 'power-up' } },
  { at: 2010, kind: 'deadline' },
];

/** The session as it runs, and what its journal says of it. */
function session(): { replay: SessionReplay; batches: ToFollower[] } {
  const replay = SessionReplay.begin(world, 1001, []);
  replay.beginRun(1, 1);
  const batches = inputs.map((input, batch): ToFollower => {
    replay.feed({ inputs: [input], chain: '' });
    return { kind: 'batch', batch, inputs: JSON.stringify([input]), chain: replay.chain };
  });
  return { replay, batches };
}

test('it follows in silence, and makes a snapshot of what it followed', () => {
  const { replay, batches } = session();
  const follower = new JournalFollower(start);
  for (const batch of batches) expect(follower.take(batch)).toBeNull();
  const { engine, layout } = replay.save();
  expect(follower.take({ kind: 'snapshot' })).toMatchObject({
    kind: 'snapshot',
    batch: 1,
    chain: replay.chain,
    state: engine,
    layout,
  });
  expect(follower.take({ kind: 'snapshot' })).toEqual({ kind: 'no-snapshot' });
  expect(follower.take({ kind: 'present', id: 7 })).toEqual({ kind: 'present', id: 7, engine });
});

test('it tells once that a session is not the same, and makes no snapshot of it', () => {
  const { batches } = session();
  const follower = new JournalFollower(start);
  const other = { ...batches[0]!, chain: 'x' } as ToFollower;
  expect(follower.take(other)).toEqual({ kind: 'differs', batch: 0 });
  expect(follower.take(batches[1]!)).toBeNull();
  expect(follower.take({ kind: 'snapshot' })).toEqual({ kind: 'no-snapshot' });
  expect(follower.take({ kind: 'present', id: 7 })).toMatchObject({ id: 7, engine: null });
});

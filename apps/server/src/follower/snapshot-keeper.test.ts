import { exampleFiles } from '@blockbell/examples';
import { afterEach, expect, test, vi } from 'vitest';
import { checkTogether } from '../files/check-files.js';
import type { NewSnapshot } from '../storage/run-store.js';
import type { FollowerStart } from './journal-follower.js';
import { SnapshotKeeper } from './snapshot-keeper.js';

const checked = checkTogether(exampleFiles('passing-loop'));
if ('faults' in checked) throw new Error('the example has faults');
const { layout, stock, timetable } = checked.files;
const START: FollowerStart = {
  layout,
  stock,
  timetable,
  session: 1,
  run: 1,
  seed: 1001,
  faults: [],
  saved: null,
};
const BATCH = { session: 1, run: 1, batch: 0, revision: 0, inputs: '[]', chain: '' };
const PORT = `import { parentPort } from 'node:worker_threads';\n`;
const SNAPSHOT = `{ kind: 'snapshot', batch: 0, chain: '', places: '[]', state: '', layout: '' }`;
/** How long a stuck thread is waited for here, ms. */
const SHORT = 50;

let keeper: SnapshotKeeper;
afterEach(() => keeper.close());

/** A keeper whose thread runs this code, and takes `patience` ms for its last snapshot at most. */
function keeperWith(
  code: string,
  save: (snapshot: NewSnapshot) => Promise<void> = async () => {},
  patience = 10_000,
) {
  const sink = { saveSnapshot: vi.fn<(snapshot: NewSnapshot) => Promise<void>>(save) };
  const observer = {
    notTheSame: vi.fn<(batch: number) => void>(),
    followerLost: vi.fn<(why: string) => void>(),
    snapshotLost: vi.fn<(why: string) => void>(),
  };
  const file = new URL(`data:text/javascript,${encodeURIComponent(PORT + code)}`);
  keeper = new SnapshotKeeper(START, '1-test', sink, observer, file, patience);
  return { sink, observer };
}

const told = ({ followerLost }: ReturnType<typeof keeperWith>['observer']) =>
  vi.waitFor(() => expect(followerLost).toHaveBeenCalled(), { timeout: 10_000 });

test.each([
  ['throws', `parentPort.on('message', () => { throw new Error('out of its depth'); })`, 'depth'],
  ['leaves', `parentPort.on('message', () => process.exit(3))`, 'it left with 3'],
  ['never gets to work', `throw new Error('no such engine')`, 'no such engine'],
])(
  'a thread that %s is told of once; what follows is dropped, and closing waits for nothing',
  async (_, code, why) => {
    const { sink, observer } = keeperWith(code);
    keeper.follow(BATCH);
    await told(observer);
    keeper.follow({ ...BATCH, batch: 1 });
    await keeper.close();
    expect(observer.followerLost.mock.calls).toEqual([[expect.stringContaining(why)]]);
    expect(observer.notTheSame).not.toHaveBeenCalled();
    expect(sink.saveSnapshot).not.toHaveBeenCalled();
  },
);

test('a thread that dies over the last snapshot does not keep the server from ending', async () => {
  const { sink, observer } = keeperWith(`parentPort.on('message', () => process.exit(1))`);
  await keeper.close();
  expect(sink.saveSnapshot).not.toHaveBeenCalled();
  // The session is closed by then, and takes no lines for its log.
  expect(observer.followerLost).not.toHaveBeenCalled();
});

test('a thread that is stuck does not keep the server from ending', async () => {
  const stuck = `parentPort.on('message', () => { for (;;); })`;
  const { sink, observer } = keeperWith(stuck, undefined, SHORT);
  keeper.follow(BATCH);
  await keeper.close();
  expect(sink.saveSnapshot).not.toHaveBeenCalled();
  expect(observer.followerLost).not.toHaveBeenCalled();
});

test('the last snapshot is kept when the server ends; one that can’t be is told of', async () => {
  const answer = `parentPort.on('message', () => parentPort.postMessage(${SNAPSHOT}))`;
  const good = keeperWith(answer);
  await keeper.close();
  expect(good.sink.saveSnapshot).toHaveBeenCalledOnce();
  expect(good.sink.saveSnapshot.mock.calls[0]![0]).toMatchObject({ session: 1, engine: '1-test' });
  const bad = keeperWith(answer, () => Promise.reject(new Error('no space left on device')));
  await keeper.close();
  expect(bad.observer.snapshotLost.mock.calls).toEqual([['no space left on device']]);
});

test('a session that is not the same is told of, and goes on', async () => {
  const { observer } = keeperWith(
    `parentPort.on('message', ({ kind }) => parentPort.postMessage(kind === 'batch' ? { kind: 'differs', batch: 0 } : { kind: 'no-snapshot' }))`,
  );
  keeper.follow(BATCH);
  await vi.waitFor(() => expect(observer.notTheSame).toHaveBeenCalledWith(0), { timeout: 10_000 });
  await keeper.close();
  expect(observer.followerLost).not.toHaveBeenCalled();
});

test('the engine’s memory is had from its thread, each answer by its question; from one that is gone it is none', async () => {
  keeperWith(
    `const asked = [];
    parentPort.on('message', ({ kind, id }) => {
      if (kind !== 'present') return parentPort.postMessage({ kind: 'no-snapshot' });
      asked.push(id);
      if (asked.length < 2) return;
      for (const each of asked.reverse()) parentPort.postMessage({ kind: 'present', id: each, engine: 'e' + each });
    })`,
  );
  expect(await Promise.all([keeper.present(), keeper.present()])).toEqual(['e1', 'e2']);
  const { observer } = keeperWith(`parentPort.on('message', () => process.exit(1))`);
  expect(await keeper.present()).toBeNull();
  await told(observer);
  expect(await keeper.present()).toBeNull();
});

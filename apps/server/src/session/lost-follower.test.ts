import { snapshotMessage, type SnapshotMessage } from '@blockbell/contract';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { MakeKeeper } from '../follower/keepers.js';
import { SnapshotKeeper } from '../follower/snapshot-keeper.js';
import { temporaryFolder } from '../testing/temporary-folder.js';
import { startTestServer, type TestServer } from '../testing/test-server.js';

/** Follows nothing: dies of the first batch. */
const DYING = new URL(
  `data:text/javascript,${encodeURIComponent(
    `import { parentPort } from 'node:worker_threads';
     parentPort.on('message', () => { throw new Error('out of memory'); });`,
  )}`,
);

vi.mock('../follower/keepers.js', async (original) => {
  const dying: MakeKeeper = (...parts) => new SnapshotKeeper(...parts, DYING);
  return { ...(await original<object>()), keepersInThreads: dying };
});

let folder: ReturnType<typeof temporaryFolder>;
let server: TestServer;

beforeEach(async () => {
  folder = temporaryFolder();
  server = await startTestServer(folder.path);
});
afterEach(async () => {
  await server.close();
  folder.remove();
});

const give = (kind: string) =>
  server.post('/api/session/command', { by: 'Ann', command: { kind } });

async function shown(): Promise<SnapshotMessage> {
  return snapshotMessage.parse((await server.get('/api/session')).body);
}

const logText = async (): Promise<string> =>
  (await shown()).rows.log!.map(({ text }) => text).join('\n');

test('when the thread that follows the journal dies, the log says so and the session goes on', async () => {
  expect((await give('power-up')).status).toBe(200);
  await expect
    .poll(logText, { timeout: 10_000 })
    .toContain('The thread that checks the journal meanwhile has ended: out of memory.');
  expect((await shown()).rows.alarms).toEqual([]);
  expect((await give('cut-power')).status).toBe(200);
  expect((await give('power-up')).status).toBe(200);
  expect((await server.get('/api/health')).body).toMatchObject({
    engine: 'running',
    journal: 'written',
  });

  await server.close();
  server = await startTestServer(folder.path);
  const { epoch, rows } = await shown();
  expect(epoch).toBe('session-1.2');
  expect(rows.session?.phase).toBe('powerless');
});

import { join } from 'node:path';
import { snapshotMessage, type SnapshotMessage } from '@blockbell/contract';
import { Logger } from '@nestjs/common';
import { getDataSourceToken } from '@nestjs/typeorm';
import type { DataSource } from 'typeorm';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { JournalBatch } from '../storage/journal-batch.entity.js';
import { JournalStore } from '../storage/journal-store.js';
import { SessionRun } from '../storage/session-run.entity.js';
import { StoredLineUp } from '../storage/stored-line-up.entity.js';
import { StoredSession } from '../storage/stored-session.entity.js';
import { temporaryFolder } from '../testing/temporary-folder.js';
import { startTestServer, type TestServer } from '../testing/test-server.js';

let folder: ReturnType<typeof temporaryFolder>;
let server: TestServer | null = null;

beforeEach(() => {
  folder = temporaryFolder();
});
afterEach(async () => {
  await server?.close();
  folder.remove();
});

async function start(): Promise<TestServer> {
  server = await startTestServer(join(folder.path, 'deeper', 'data'));
  return server;
}

async function stop(): Promise<void> {
  await server?.close();
  server = null;
}

const give = (kind: string, more: object = {}) =>
  server!.post('/api/session/command', { by: 'Ann', command: { kind, ...more } });

async function shown(): Promise<SnapshotMessage> {
  return snapshotMessage.parse((await server!.get('/api/session')).body);
}

const database = (): DataSource => server!.app.get<DataSource>(getDataSourceToken());

test('the first start makes the data folder and a session of the example', async () => {
  await start();
  const { epoch, rows } = await shown();
  expect(epoch).toBe('session-1.1');
  expect(rows.session).toMatchObject({ phase: 'set-up', device: 'simulated layout' });
});

test('after a restart the session is there again, held without power, and says so', async () => {
  await start();
  await give('power-up');
  await stop();
  await start();
  const { epoch, rows } = await shown();
  expect(epoch).toBe('session-1.2');
  expect(rows.session?.phase).toBe('powerless');
  expect(rows.trains!.every(({ confirmed }) => !confirmed)).toBe(true);
  expect(rows.log!.map(({ text }) => text).join()).toContain('started again during the session');
});

test('after a restart the log goes on below what it said before', async () => {
  await start();
  await give('power-up');
  await give('resume');
  const before = (await shown()).rows.log!.map(({ text }) => text);
  expect(before.join()).toContain('Ann was refused');
  await stop();
  await start();
  const log = (await shown()).rows.log!;
  expect(log.slice(0, before.length).map(({ text }) => text)).toEqual(before);
  const after = log.slice(before.length).map(({ text }) => text);
  expect(after.join()).toContain('started again during the session');
  expect(log.map(({ number }) => number)).toEqual(log.map((_, index) => index));
});

test('a session of another engine version is begun again with a line-up, and says why', async () => {
  await start();
  await give('power-up');
  await database().getRepository(SessionRun).update({ session: 1 }, { engine: '0.0.1-old' });
  await stop();
  const warn = vi.spyOn(Logger.prototype, 'warn').mockImplementation(() => {});
  await start();
  const { epoch, rows } = await shown();
  expect(epoch).toBe('session-2.1');
  expect(rows.session?.phase).toBe('set-up');
  expect(rows.log!.map(({ text }) => text).join()).toContain('engine version 0.0.1-old');
  await give('power-up');
  // Decoders answer, but where trains have come to since is not known: a person looks at each.
  await expect
    .poll(async () => (await shown()).rows.lineUp!.map(({ text }) => text).join(), {
      timeout: 10_000,
    })
    .toContain('much of what happened before the restart was lost');
  expect(warn).toHaveBeenCalledTimes(1);
  warn.mockRestore();
});

test('the end of a run keeps what its replay must come to', async () => {
  await start();
  await give('power-up');
  await stop();
  await start();
  const [first, second] = await database().getRepository(SessionRun).find();
  expect(first!.digest).toMatch(/^[0-9a-f]{16}$/);
  expect(second).toMatchObject({ run: 2, digest: null });
  expect(second!.takenUpTo).toBeGreaterThanOrEqual(0);
});

test('what happened before a stop is in the journal', async () => {
  await start();
  await give('power-up');
  await stop();
  await start();
  const batches = await server!.app.get(JournalStore).batchesOf(1, 1);
  const inputs = batches.flatMap(({ inputs }) => JSON.parse(inputs) as { command?: object }[]);
  expect(inputs.some(({ command }) => JSON.stringify(command) === '{"kind":"power-up"}')).toBe(
    true,
  );
  const entries = await server!.app.get(JournalStore).entriesOf(1, 1);
  expect(entries.length).toBeGreaterThan(0);
});

test('a session that runs is not put away for another', async () => {
  await start();
  await give('power-up');
  await expect
    .poll(
      async () => {
        for (const row of (await shown()).rows.lineUp!)
          if (row.status === 'ask')
            await give('confirm-place', { train: row.train, heading: row.heading });
        await give('start');
        return (await shown()).rows.session?.phase;
      },
      { timeout: 20_000, interval: 300 },
    )
    .toBe('running');
  const again = (): Promise<{ status: number; body: unknown }> =>
    server!.post('/api/session', { by: 'Ben', example: 'passing-loop' });
  expect(await again()).toMatchObject({
    status: 409,
    body: { refusal: { code: 'session-running' } },
  });
  await give('stop-all');
  expect((await again()).status).toBe(201);
  const sessions = await database().getRepository(StoredSession).find();
  expect(sessions.map(({ ending }) => ending)).toEqual([
    'put away by Ben for another session',
    null,
  ]);
});

test('an ended session leaves its line-up, and the next start begins anew', async () => {
  await start();
  await give('power-up');
  await expect
    .poll(
      async () => {
        for (const row of (await shown()).rows.lineUp!)
          if (row.status === 'ask')
            await give('confirm-place', { train: row.train, heading: row.heading });
        await give('start');
        await give('end-session');
        return (await shown()).rows.session?.phase;
      },
      { timeout: 20_000, interval: 300 },
    )
    .toBe('ended');
  await expect
    .poll(() => database().getRepository(StoredLineUp).count(), { timeout: 5_000 })
    .toBe(1);
  const [lineUp] = await database().getRepository(StoredLineUp).find();
  expect((JSON.parse(lineUp!.places) as object[]).length).toBe(2);
  await stop();
  await start();
  expect((await shown()).epoch).toBe('session-2.1');
});

test('a journal that can’t be written is seen in health and holds departures', async () => {
  const error = vi.spyOn(Logger.prototype, 'error').mockImplementation(() => {});
  await start();
  await database().query(`ALTER TABLE "${tableOf(JournalBatch)}" RENAME TO "elsewhere"`);
  await give('power-up');
  await expect
    .poll(async () => (await server!.get('/api/health')).body, { timeout: 5_000 })
    .toMatchObject({ journal: 'failing' });
  expect((await shown()).rows.alarms!.map(({ text }) => text).join()).toContain('no such table');
  await database().query(`ALTER TABLE "elsewhere" RENAME TO "${tableOf(JournalBatch)}"`);
  await expect
    .poll(async () => (await server!.get('/api/health')).body, { timeout: 5_000 })
    .toMatchObject({ journal: 'written' });
  expect(error).toHaveBeenCalledTimes(1);
  error.mockRestore();
});

const tableOf = (entity: typeof JournalBatch): string => database().getMetadata(entity).tableName;

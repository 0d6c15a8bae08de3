import { join } from 'node:path';
import { DataSource } from 'typeorm';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { databaseOptions } from '../storage/database.js';
import { FileStore } from '../storage/file-store.js';
import { JournalBatch } from '../storage/journal-batch.entity.js';
import { SessionStore } from '../storage/session-store.js';
import { StoredFile } from '../storage/stored-file.entity.js';
import { StoredLineUp } from '../storage/stored-line-up.entity.js';
import { StoredSession } from '../storage/stored-session.entity.js';
import { temporaryFolder } from '../testing/temporary-folder.js';
import { KeptRecordings } from './kept-recordings.js';
import { packed, unpacked } from './packing.js';
import { RecordingPiece } from './recording-piece.entity.js';
import { RecordingStore } from './recording-store.js';

let folder: ReturnType<typeof temporaryFolder>;
let database: DataSource;
let store: RecordingStore;

beforeEach(async () => {
  folder = temporaryFolder();
  database = await new DataSource(databaseOptions(join(folder.path, 'test.sqlite'))).initialize();
  store = new RecordingStore(database.getRepository(RecordingPiece));
});
afterEach(async () => {
  await database.destroy();
  folder.remove();
});

async function newSession(): Promise<number> {
  const hash = '0123456789abcdef';
  await new FileStore(database.getRepository(StoredFile)).store({
    hash,
    kind: 'layout',
    name: 'Loop',
    layout: 'loop',
    text: '{}',
  });
  const { id } = await new SessionStore(
    database.getRepository(StoredSession),
    database.getRepository(StoredLineUp),
  ).create({ name: 'S', layoutHash: hash, stockHash: hash, timetableHash: hash });
  return id;
}

async function piece(session: number, more: Partial<RecordingPiece> = {}): Promise<RecordingPiece> {
  const content = await packed('{"some":"rows"}');
  return {
    session,
    run: 1,
    part: 0,
    piece: 0,
    from: 0,
    until: 10,
    fromFast: 100,
    untilFast: 200,
    fromRevision: 1,
    revision: 2,
    marks: '[]',
    bytes: content.length,
    content,
    ...more,
  };
}

test('pieces come back as written and in order; writing one again changes nothing', async () => {
  const session = await newSession();
  const second = await piece(session, {
    piece: 1,
    from: 10,
    until: 30,
    marks: '[{"kind":"alarm"}]',
  });
  const first = await piece(session);
  for (const each of [second, first, second]) await store.write(each);
  expect(await store.piecesOf(session, 1, 0)).toEqual([first, second]);
  expect(await unpacked((await store.piecesOf(session, 1, 0))[0]!.content)).toBe('{"some":"rows"}');
  const heads = await store.headsOf(session);
  const { content: _content, bytes: _bytes, ...head } = second;
  expect(heads[1]).toEqual(head);
  expect(heads).toHaveLength(2);
  expect(await store.summaries()).toEqual(
    new Map([[session, { recorded: 30, marks: ['[{"kind":"alarm"}]'] }]]),
  );
});

test('a session’s recorded time is that of all its openings', async () => {
  const session = await newSession();
  await store.write(await piece(session, { until: 1_000 }));
  await store.write(await piece(session, { run: 2, from: 500, until: 900 }));
  expect((await store.summaries()).get(session)?.recorded).toBe(1_400);
});

test('beyond the limits the oldest recording goes, and its journal stays', async () => {
  const sessions = [await newSession(), await newSession(), await newSession()];
  const batches = database.getRepository(JournalBatch);
  const settings = {
    port: 0,
    open: false,
    names: [],
    dataFolder: folder.path,
    example: 'demo',
    faults: null,
    planning: false,
    recordings: { sessions: 2, megabytes: 1 },
  };
  const kept = new KeptRecordings(settings, store);
  for (const session of sessions) {
    await batches.insert({ session, run: 1, batch: 0, revision: 1, inputs: '[]', chain: 'ab' });
    await kept.write(await piece(session));
    await kept.write(await piece(session, { piece: 1 }));
  }
  expect((await store.sizes()).map(({ session }) => session)).toEqual(sessions.slice(1));
  expect(await batches.count()).toBe(3);
});

import { join } from 'node:path';
import { DataSource } from 'typeorm';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { temporaryFolder } from '../testing/temporary-folder.js';
import { databaseOptions } from './database.js';
import { FileStore } from './file-store.js';
import { JournalBatch } from './journal-batch.entity.js';
import { JournalEntry } from './journal-entry.entity.js';
import { JournalStore } from './journal-store.js';
import { StagingRules1700000000005 } from './migrations/0005-staging-rules.js';
import { LayoutOfFiles1700000000006 } from './migrations/0006-layout-of-files.js';
import { SessionStore } from './session-store.js';
import { StoredFile } from './stored-file.entity.js';
import { StoredLineUp } from './stored-line-up.entity.js';
import { StoredSession } from './stored-session.entity.js';

let folder: ReturnType<typeof temporaryFolder>;
let database: DataSource;

const open = async (): Promise<DataSource> =>
  new DataSource(databaseOptions(join(folder.path, 'test.sqlite'))).initialize();

beforeEach(async () => {
  folder = temporaryFolder();
  database = await open();
});
afterEach(async () => {
  await database.destroy();
  folder.remove();
});

const FILE = {
  hash: '0123456789abcdef',
  kind: 'layout',
  name: 'Loop',
  layout: 'loop',
  text: '{"id":"loop"}',
} as const;

async function newSession(): Promise<StoredSession> {
  await new FileStore(database.getRepository(StoredFile)).store(FILE);
  const { hash } = FILE;
  return sessions().create({ name: 'S', layoutHash: hash, stockHash: hash, timetableHash: hash });
}

const sessions = (): SessionStore =>
  new SessionStore(database.getRepository(StoredSession), database.getRepository(StoredLineUp));

test('the migrations make exactly the columns that the entities describe', async () => {
  const tables = await database.query<{ name: string }[]>(
    `SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'`,
  );
  const described = database.entityMetadatas.map(({ tableName }) => tableName);
  expect(tables.map(({ name }) => name).sort()).toEqual([...described, 'migrations'].sort());
  for (const { tableName, columns } of database.entityMetadatas) {
    const made = await database.query<
      { name: string; type: string; notnull: number; pk: number }[]
    >(`PRAGMA table_info("${tableName}")`);
    expect({
      tableName,
      columns: made.map(({ name, type, notnull, pk }) => ({
        name,
        type: type.toLowerCase(),
        nullable: notnull === 0,
        key: pk > 0,
      })),
    }).toEqual({
      tableName,
      columns: columns.map((column) => ({
        name: column.databaseName,
        type: column.type === Number ? 'integer' : column.type,
        nullable: column.isNullable,
        key: column.isPrimary,
      })),
    });
  }
});

test('opening again migrates nothing twice and finds what was stored', async () => {
  const { id } = await newSession();
  await database.destroy();
  database = await open();
  expect(await sessions().unfinished()).toMatchObject({ id, name: 'S', runs: 0 });
});

test('the same content is stored once', async () => {
  const files = new FileStore(database.getRepository(StoredFile));
  const first = await files.store(FILE);
  expect(await files.store(FILE)).toEqual(first);
  expect(await files.list()).toEqual([first]);
  expect(await files.find(FILE.hash)).toMatchObject(FILE);
  expect(await files.find('feedfeedfeedfeed')).toBeNull();
});

test('files of staging rules are kept; sessions of before, and their files, outlast the change of the table', async () => {
  const runner = database.createQueryRunner();
  const files = new FileStore(database.getRepository(StoredFile));
  const rules = { ...FILE, hash: 'feedfeedfeedfeed', kind: 'staging-rules' } as const;
  const { id } = await newSession();
  const change = new StagingRules1700000000005();
  const later = new LayoutOfFiles1700000000006();
  await runner.startTransaction();
  await later.down(runner);
  await change.down(runner);
  await runner.commitTransaction();
  const stored = runner.query(
    `INSERT INTO "file" VALUES ('feedfeedfeedfeed', 'staging-rules', 'Rules', '{}', '2030')`,
  );
  expect(await stored.catch(() => 'refused')).toBe('refused');
  await runner.startTransaction();
  await change.up(runner);
  await later.up(runner);
  await runner.commitTransaction();
  await runner.release();
  expect(await files.store(rules)).toMatchObject({ kind: 'staging-rules' });
  expect(await files.find(FILE.hash)).toMatchObject(FILE);
  expect(await sessions().unfinished()).toMatchObject({ id });
  expect(await database.query('PRAGMA foreign_key_check')).toEqual([]);
});

test('files of before are said to be of the layout that they name', async () => {
  const files = new FileStore(database.getRepository(StoredFile));
  const kept = [
    ['layout', '{"id":"loop","layout":"no"}', 'loop'],
    ['stock', '{"id":"cars","layout":"no"}', null],
    ['timetable', '{"id":"day","layout":"loop"}', 'loop'],
    ['staging-rules', '{"id":"rules","layout":"valley"}', 'valley'],
  ] as const;
  for (const [index, [kind, text]] of kept.entries())
    await files.store({ hash: `${index}`, kind, name: kind, layout: null, text });
  const runner = database.createQueryRunner();
  const change = new LayoutOfFiles1700000000006();
  await change.down(runner);
  await change.up(runner);
  await runner.release();
  const found = (await files.list()).map(({ kind, layout }) => [kind, layout]);
  expect(new Map(found as [string, string | null][])).toEqual(
    new Map(kept.map(([kind, , layout]) => [kind, layout])),
  );
});

test('a session is unfinished until it is ended, and counts its openings', async () => {
  const session = await newSession();
  expect(await sessions().opened(session)).toBe(1);
  expect(await sessions().opened(session)).toBe(2);
  await sessions().ended(session.id, 'as asked');
  expect(await sessions().unfinished()).toBeNull();
});

test('a session of files that are not there is refused by the database', async () => {
  const hash = 'feedfeedfeedfeed';
  await expect(
    sessions().create({ name: 'S', layoutHash: hash, stockHash: hash, timetableHash: hash }),
  ).rejects.toThrow(/FOREIGN KEY/);
});

test('a line-up is kept with its session', async () => {
  const session = await newSession();
  await sessions().saveLineUp(session, [{ train: 'T1', block: 'B1', towards: 'a' }]);
  const [row] = await database.getRepository(StoredLineUp).find();
  expect(row).toMatchObject({ session: session.id, layoutHash: FILE.hash });
  expect(JSON.parse(row!.places)).toEqual([{ train: 'T1', block: 'B1', towards: 'a' }]);
});

test('journal rows come back as written, and writing them again changes nothing', async () => {
  const { id } = await newSession();
  const store = new JournalStore(
    database.getRepository(JournalBatch),
    database.getRepository(JournalEntry),
  );
  const batch = { session: id, run: 1, batch: 0, revision: 9, inputs: '[{"at":1}]', chain: 'ab' };
  const entries = Array.from({ length: 250 }, (_, number) => ({
    session: id,
    run: 1,
    number,
    kind: 'decision' as const,
    at: number,
    fast: number,
    train: number % 2 === 0 ? null : 1,
    text: `line ${number}`,
  }));
  await store.write({ batch, entries });
  await store.write({ batch, entries });
  expect(await store.batchesOf(id, 1)).toEqual([batch]);
  expect(await store.entriesOf(id, 1)).toEqual(entries);
  expect(await store.batchesOf(id, 2)).toEqual([]);
});

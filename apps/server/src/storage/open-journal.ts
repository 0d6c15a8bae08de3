import { DataSource } from 'typeorm';
import { databaseOptions } from './database.js';
import { FileStore } from './file-store.js';
import { JournalBatch } from './journal-batch.entity.js';
import { JournalEntry } from './journal-entry.entity.js';
import { JournalStore } from './journal-store.js';
import { SessionStore } from './session-store.js';
import { StoredFile } from './stored-file.entity.js';
import { StoredLineUp } from './stored-line-up.entity.js';
import { StoredSession } from './stored-session.entity.js';

/** A database with one session, for programs that keep its journal without the whole server. */
export interface OpenJournal {
  readonly store: JournalStore;
  /** The session's number. */
  readonly session: number;
  /** Bytes of the database, what waits to be merged into its file included. */
  bytes(): Promise<number>;
  close(): Promise<void>;
}

/** What the session is frozen to: nothing anybody reads. */
const NO_FILE = { hash: 'none', kind: 'layout', name: 'none', layout: null, text: '' } as const;

/** Makes a database in that file, which must not be there yet. */
export async function openJournal(path: string): Promise<OpenJournal> {
  const database = await new DataSource(databaseOptions(path)).initialize();
  await new FileStore(database.getRepository(StoredFile)).store(NO_FILE);
  const { hash } = NO_FILE;
  const { id } = await new SessionStore(
    database.getRepository(StoredSession),
    database.getRepository(StoredLineUp),
  ).create({ name: 'journal', layoutHash: hash, stockHash: hash, timetableHash: hash });
  const store = new JournalStore(
    database.getRepository(JournalBatch),
    database.getRepository(JournalEntry),
  );
  return {
    store,
    session: id,
    bytes: () => bytesOf(database),
    close: () => database.destroy(),
  };
}

async function bytesOf(database: DataSource): Promise<number> {
  const read = async (name: 'page_count' | 'freelist_count' | 'page_size'): Promise<number> => {
    const [row] = await database.query<Record<string, number>[]>(`PRAGMA ${name}`);
    return row?.[name] ?? 0;
  };
  return ((await read('page_count')) - (await read('freelist_count'))) * (await read('page_size'));
}

import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { DataSource } from 'typeorm';
import type { CheckedFile } from './file-store.js';
import { databaseOptions } from './database.js';
import { FileStore } from './file-store.js';
import { JournalBatch } from './journal-batch.entity.js';
import { JournalEntry } from './journal-entry.entity.js';
import { JournalStore } from './journal-store.js';
import { RunStore } from './run-store.js';
import { SessionRun } from './session-run.entity.js';
import { SessionSnapshot } from './session-snapshot.entity.js';
import { SessionStore } from './session-store.js';
import { StoredFile } from './stored-file.entity.js';
import { StoredLineUp } from './stored-line-up.entity.js';
import { StoredSession } from './stored-session.entity.js';

/** A data folder as a server keeps it, for programs that fill one without the whole server. */
export class DataFolder {
  readonly journal: JournalStore;
  readonly runs: RunStore;

  private constructor(private readonly database: DataSource) {
    const of = database.getRepository.bind(database);
    this.journal = new JournalStore(of(JournalBatch), of(JournalEntry));
    this.runs = new RunStore(of(SessionRun), of(SessionSnapshot));
  }

  /** Makes it where it is missing. */
  static async open(folder: string): Promise<DataFolder> {
    mkdirSync(folder, { recursive: true });
    const options = databaseOptions(join(folder, 'blockbell.sqlite'));
    return new DataFolder(await new DataSource(options).initialize());
  }

  /** A session on these three files, opened once by this version of the engine; its number. */
  async begin(files: readonly CheckedFile[], engine: string): Promise<number> {
    const { database } = this;
    const store = new FileStore(database.getRepository(StoredFile));
    for (const file of files) await store.store(file);
    const hashOf = (kind: CheckedFile['kind']): string =>
      files.find((file) => file.kind === kind)?.hash ?? '';
    const sessions = new SessionStore(
      database.getRepository(StoredSession),
      database.getRepository(StoredLineUp),
    );
    const stored = await sessions.create({
      name: files.find(({ kind }) => kind === 'timetable')?.name ?? '',
      layoutHash: hashOf('layout'),
      stockHash: hashOf('stock'),
      timetableHash: hashOf('timetable'),
    });
    const run = await sessions.opened(stored);
    await this.runs.opened({ session: stored.id, run, engine, takenUpTo: -1, faults: '[]' });
    return stored.id;
  }

  close(): Promise<void> {
    return this.database.destroy();
  }
}

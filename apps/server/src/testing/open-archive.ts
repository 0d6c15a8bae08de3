import { DataSource } from 'typeorm';
import { RecordingPiece } from '../recording/recording-piece.entity.js';
import { RecordingStore } from '../recording/recording-store.js';
import { SessionArchive } from '../recording/session-archive.js';
import { databaseOptions } from '../storage/database.js';
import { FileStore } from '../storage/file-store.js';
import { JournalBatch } from '../storage/journal-batch.entity.js';
import { JournalEntry } from '../storage/journal-entry.entity.js';
import { JournalStore } from '../storage/journal-store.js';
import { RunStore } from '../storage/run-store.js';
import { SessionRun } from '../storage/session-run.entity.js';
import { SessionSnapshot } from '../storage/session-snapshot.entity.js';
import { SessionStore } from '../storage/session-store.js';
import { StoredFile } from '../storage/stored-file.entity.js';
import { StoredLineUp } from '../storage/stored-line-up.entity.js';
import { StoredSession } from '../storage/stored-session.entity.js';

export interface OpenArchive {
  readonly archive: SessionArchive;
  readonly recordings: RecordingStore;
  /** A session of which nothing is recorded yet. */
  readonly session: number;
  close(): Promise<void>;
}

/** What is stored of one session, in a database of its own. */
export async function openArchive(path: string): Promise<OpenArchive> {
  const database = await new DataSource(databaseOptions(path)).initialize();
  const sessions = new SessionStore(
    database.getRepository(StoredSession),
    database.getRepository(StoredLineUp),
  );
  const files = new FileStore(database.getRepository(StoredFile));
  const recordings = new RecordingStore(database.getRepository(RecordingPiece));
  const runs = new RunStore(
    database.getRepository(SessionRun),
    database.getRepository(SessionSnapshot),
  );
  const journal = new JournalStore(
    database.getRepository(JournalBatch),
    database.getRepository(JournalEntry),
  );
  const hash = '0123456789abcdef';
  await files.store({ hash, kind: 'layout', name: 'Demo', layout: 'demo', text: '{}' });
  const { id } = await sessions.create({
    name: 'Demo',
    layoutHash: hash,
    stockHash: hash,
    timetableHash: hash,
  });
  const archive = new SessionArchive(sessions, files, recordings, runs, journal);
  return { archive, recordings, session: id, close: () => database.destroy() };
}

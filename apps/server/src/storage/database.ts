import type { DataSourceOptions } from 'typeorm';
import { JournalBatch } from './journal-batch.entity.js';
import { JournalEntry } from './journal-entry.entity.js';
import { RecordingPiece } from '../recording/recording-piece.entity.js';
import { FirstTables1700000000001 } from './migrations/0001-first-tables.js';
import { Restarts1700000000002 } from './migrations/0002-restarts.js';
import { Recordings1700000000004 } from './migrations/0004-recordings.js';
import { People1700000000003 } from './migrations/0003-people.js';
import { StagingRules1700000000005 } from './migrations/0005-staging-rules.js';
import { LayoutOfFiles1700000000006 } from './migrations/0006-layout-of-files.js';
import { SessionRun } from './session-run.entity.js';
import { SessionSnapshot } from './session-snapshot.entity.js';
import { StoredCrew } from './stored-crew.entity.js';
import { StoredFile } from './stored-file.entity.js';
import { StoredLineUp } from './stored-line-up.entity.js';
import { StoredPerson } from './stored-person.entity.js';
import { StoredSession } from './stored-session.entity.js';
import { StoredSignIn } from './stored-sign-in.entity.js';

export const ENTITIES = [
  StoredFile,
  StoredSession,
  JournalBatch,
  JournalEntry,
  StoredLineUp,
  StoredPerson,
  StoredSignIn,
  StoredCrew,
  RecordingPiece,
  SessionRun,
  SessionSnapshot,
];

/** The one database of a server; its tables change through migrations only. A new table goes into a new migration. */
export const databaseOptions = (file: string): DataSourceOptions => ({
  type: 'sqlite',
  database: file,
  entities: ENTITIES,
  migrations: [
    FirstTables1700000000001,
    Restarts1700000000002,
    People1700000000003,
    Recordings1700000000004,
    StagingRules1700000000005,
    LayoutOfFiles1700000000006,
  ],
  migrationsRun: true,
  synchronize: false,
  enableWAL: true,
  busyErrorRetry: 50,
  invalidWhereValuesBehavior: { null: 'throw', undefined: 'throw' },
  logging: false,
});

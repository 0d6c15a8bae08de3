import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import {
  countInputs,
  type CountedInputs,
  type Opening,
  type StoredBatch,
} from '@blockbell/journal';
import sqlite3 from 'sqlite3';
import { UsageError } from '../exit-code.js';

/** A session in the database of a server, with its files as text. */
export interface StoredSession {
  readonly id: number;
  readonly name: string;
  readonly createdAt: string;
  /** Null while it goes on. */
  readonly ending: string | null;
  readonly layout: string;
  readonly stock: string;
  readonly timetable: string;
}

export interface StoredRun extends Opening {
  readonly engine: string;
  /** JSON array of the simulated layout's scripted faults. */
  readonly faults: string;
  /** Content hash of the engine's state at its end; null when the server was killed, or still runs. */
  readonly digest: string | null;
}

const SESSION = `SELECT s."id", s."name", s."createdAt", s."ending",
    l."text" AS "layout", k."text" AS "stock", t."text" AS "timetable"
  FROM "session" s
    JOIN "file" l ON l."hash" = s."layoutHash"
    JOIN "file" k ON k."hash" = s."stockHash"
    JOIN "file" t ON t."hash" = s."timetableHash"`;

/** Reads sessions from a server's database, and never writes. The server may run meanwhile. */
export class StoredJournal {
  private constructor(private readonly database: sqlite3.Database) {}

  static async open(folder: string): Promise<StoredJournal> {
    const file = join(folder, 'blockbell.sqlite');
    if (!existsSync(file)) throw new UsageError(`there is no ${file}; name a server’s data folder`);
    const database = await new Promise<sqlite3.Database>((resolve, reject) => {
      const opened = new sqlite3.Database(file, sqlite3.OPEN_READONLY, (error) =>
        error === null ? resolve(opened) : reject(error),
      );
    });
    const journal = new StoredJournal(database);
    const known = await journal.all(
      `SELECT "name" FROM "sqlite_master" WHERE "name" = 'session_run'`,
    );
    if (known.length > 0) return journal;
    await journal.close();
    throw new UsageError(`${file} was written by an older version; start the server on it once`);
  }

  /** That session, or the newest one that anything happened in; null: there is none. */
  async session(id: number | null): Promise<StoredSession | null> {
    const rows =
      id === null
        ? await this.all<StoredSession>(
            `${SESSION} WHERE EXISTS (SELECT 1 FROM "journal_batch" b WHERE b."session" = s."id")
             ORDER BY s."id" DESC LIMIT 1`,
          )
        : await this.all<StoredSession>(`${SESSION} WHERE s."id" = ?`, id);
    return rows[0] ?? null;
  }

  runs(session: number): Promise<StoredRun[]> {
    return this.all(
      `SELECT "run", "engine", "takenUpTo", "faults", "digest" FROM "session_run"
       WHERE "session" = ? ORDER BY "run"`,
      session,
    );
  }

  batches(session: number, run: number): Promise<StoredBatch[]> {
    return this.all(
      `SELECT "batch", "inputs", "chain" FROM "journal_batch"
       WHERE "session" = ? AND "run" = ? ORDER BY "batch"`,
      session,
      run,
    );
  }

  /** All inputs that count of its openings, in order, as far as they can be read. */
  async inputs(session: number): Promise<CountedInputs> {
    const openings: (StoredRun & { batches: StoredBatch[] })[] = [];
    for (const run of await this.runs(session))
      openings.push({ ...run, batches: await this.batches(session, run.run) });
    return countInputs(openings);
  }

  close(): Promise<void> {
    return promisify((done: (error: Error | null) => void) => this.database.close(done))();
  }

  private all<Row>(sql: string, ...values: readonly number[]): Promise<Row[]> {
    return new Promise((resolve, reject) => {
      this.database.all<Row>(sql, values, (error, rows) =>
        error === null ? resolve(rows) : reject(error),
      );
    });
  }
}

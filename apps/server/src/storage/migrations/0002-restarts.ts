import type { MigrationInterface, QueryRunner } from 'typeorm';

/** What a session needs to be taken up again after a restart. */
export class Restarts1700000000002 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`CREATE TABLE "session_run" (
      "session" integer NOT NULL REFERENCES "session" ("id"),
      "run" integer NOT NULL,
      "openedAt" varchar NOT NULL,
      "engine" varchar NOT NULL,
      "takenUpTo" integer NOT NULL,
      "faults" text NOT NULL,
      "closedAt" varchar,
      "digest" varchar,
      PRIMARY KEY ("session", "run")
    )`);
    await runner.query(`CREATE TABLE "session_snapshot" (
      "session" integer NOT NULL REFERENCES "session" ("id"),
      "run" integer NOT NULL,
      "batch" integer NOT NULL,
      "engine" varchar NOT NULL,
      "chain" varchar NOT NULL,
      "savedAt" varchar NOT NULL,
      "places" text NOT NULL,
      "state" text NOT NULL,
      "layout" text NOT NULL,
      PRIMARY KEY ("session", "run", "batch")
    )`);
  }

  async down(runner: QueryRunner): Promise<void> {
    for (const table of ['session_snapshot', 'session_run'])
      await runner.query(`DROP TABLE "${table}"`);
  }
}

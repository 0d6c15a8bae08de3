import type { MigrationInterface, QueryRunner } from 'typeorm';

export class FirstTables1700000000001 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`CREATE TABLE "file" (
      "hash" varchar PRIMARY KEY NOT NULL,
      "kind" varchar NOT NULL CHECK ("kind" IN ('layout', 'stock', 'timetable')),
      "name" varchar NOT NULL,
      "text" text NOT NULL,
      "storedAt" varchar NOT NULL
    )`);
    await runner.query(`CREATE TABLE "session" (
      "id" integer PRIMARY KEY AUTOINCREMENT NOT NULL,
      "name" varchar NOT NULL,
      "layoutHash" varchar NOT NULL REFERENCES "file" ("hash"),
      "stockHash" varchar NOT NULL REFERENCES "file" ("hash"),
      "timetableHash" varchar NOT NULL REFERENCES "file" ("hash"),
      "createdAt" varchar NOT NULL,
      "endedAt" varchar,
      "ending" varchar,
      "runs" integer NOT NULL
    )`);
    await runner.query(`CREATE TABLE "journal_batch" (
      "session" integer NOT NULL REFERENCES "session" ("id"),
      "run" integer NOT NULL,
      "batch" integer NOT NULL,
      "revision" integer NOT NULL,
      "inputs" text NOT NULL,
      "chain" varchar NOT NULL,
      PRIMARY KEY ("session", "run", "batch")
    )`);
    await runner.query(`CREATE TABLE "journal_entry" (
      "session" integer NOT NULL REFERENCES "session" ("id"),
      "run" integer NOT NULL,
      "number" integer NOT NULL,
      "kind" varchar NOT NULL CHECK ("kind" IN ('decision', 'alarm', 'refusal')),
      "at" integer NOT NULL,
      "fast" integer NOT NULL,
      "train" integer,
      "text" text NOT NULL,
      PRIMARY KEY ("session", "run", "number")
    )`);
    await runner.query(`CREATE TABLE "line_up" (
      "id" integer PRIMARY KEY AUTOINCREMENT NOT NULL,
      "session" integer NOT NULL REFERENCES "session" ("id"),
      "layoutHash" varchar NOT NULL,
      "stockHash" varchar NOT NULL,
      "savedAt" varchar NOT NULL,
      "places" text NOT NULL
    )`);
  }

  async down(runner: QueryRunner): Promise<void> {
    for (const table of ['line_up', 'journal_entry', 'journal_batch', 'session', 'file'])
      await runner.query(`DROP TABLE "${table}"`);
  }
}

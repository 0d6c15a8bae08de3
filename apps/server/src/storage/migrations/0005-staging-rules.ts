import type { MigrationInterface, QueryRunner } from 'typeorm';

const columns = (kinds: string): string => `(
  "hash" varchar PRIMARY KEY NOT NULL,
  "kind" varchar NOT NULL CHECK ("kind" IN (${kinds})),
  "name" varchar NOT NULL,
  "text" text NOT NULL,
  "storedAt" varchar NOT NULL
)`;

/** Files of staging rules are kept as well. A check of a column can't be changed: the table is made anew. */
export class StagingRules1700000000005 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await makeAnew(runner, `'layout', 'stock', 'timetable', 'staging-rules'`);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`DELETE FROM "file" WHERE "kind" = 'staging-rules'`);
    await makeAnew(runner, `'layout', 'stock', 'timetable'`);
  }
}

/** Sessions name files: that each is there again counts when the transaction ends. */
async function makeAnew(runner: QueryRunner, kinds: string): Promise<void> {
  await runner.query(`PRAGMA defer_foreign_keys = ON`);
  await runner.query(`CREATE TABLE "file_before" AS SELECT * FROM "file"`);
  await runner.query(`DROP TABLE "file"`);
  await runner.query(`CREATE TABLE "file" ${columns(kinds)}`);
  await runner.query(
    `INSERT INTO "file" ("hash", "kind", "name", "text", "storedAt")
     SELECT "hash", "kind", "name", "text", "storedAt" FROM "file_before"`,
  );
  await runner.query(`DROP TABLE "file_before"`);
}

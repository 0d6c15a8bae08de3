import type { MigrationInterface, QueryRunner } from 'typeorm';

/** Who may sign in, where they are signed in, and which train they drive. */
export class People1700000000003 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`CREATE TABLE "person" (
      "id" integer PRIMARY KEY AUTOINCREMENT NOT NULL,
      "name" varchar NOT NULL COLLATE NOCASE UNIQUE,
      "role" varchar NOT NULL CHECK ("role" IN ('visitor', 'crew', 'dispatcher', 'builder')),
      "secret" varchar NOT NULL,
      "addedAt" varchar NOT NULL
    )`);
    await runner.query(`CREATE TABLE "sign_in" (
      "tokenHash" varchar PRIMARY KEY NOT NULL,
      "person" integer NOT NULL REFERENCES "person" ("id") ON DELETE CASCADE,
      "expiresAt" varchar NOT NULL
    )`);
    await runner.query(`CREATE TABLE "crew" (
      "session" integer NOT NULL REFERENCES "session" ("id"),
      "train" integer NOT NULL,
      "person" integer NOT NULL REFERENCES "person" ("id") ON DELETE CASCADE,
      PRIMARY KEY ("session", "train"),
      UNIQUE ("session", "person")
    )`);
  }

  async down(runner: QueryRunner): Promise<void> {
    for (const table of ['crew', 'sign_in', 'person']) await runner.query(`DROP TABLE "${table}"`);
  }
}

import type { MigrationInterface, QueryRunner } from 'typeorm';

export class Recordings1700000000004 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`CREATE TABLE "recording_piece" (
      "session" integer NOT NULL REFERENCES "session" ("id"),
      "run" integer NOT NULL,
      "part" integer NOT NULL,
      "piece" integer NOT NULL,
      "from" integer NOT NULL,
      "until" integer NOT NULL,
      "fromFast" integer NOT NULL,
      "untilFast" integer NOT NULL,
      "fromRevision" integer NOT NULL,
      "revision" integer NOT NULL,
      "marks" text NOT NULL,
      "bytes" integer NOT NULL,
      "content" blob NOT NULL,
      PRIMARY KEY ("session", "run", "part", "piece")
    )`);
    // How much is kept of each session can be read without touching the content.
    await runner.query(`CREATE INDEX "recording_size" ON "recording_piece" ("session", "bytes")`);
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`DROP TABLE "recording_piece"`);
  }
}

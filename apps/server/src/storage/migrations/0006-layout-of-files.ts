import type { MigrationInterface, QueryRunner } from 'typeorm';

/** Each file's row says which layout it is, or is for, so that a board can list those that fit. */
export class LayoutOfFiles1700000000006 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query(`ALTER TABLE "file" ADD COLUMN "layout" varchar`);
    await runner.query(
      `UPDATE "file" SET "layout" =
         json_extract("text", CASE "kind" WHEN 'layout' THEN '$.id' ELSE '$.layout' END)
       WHERE "kind" <> 'stock'`,
    );
  }

  async down(runner: QueryRunner): Promise<void> {
    await runner.query(`ALTER TABLE "file" DROP COLUMN "layout"`);
  }
}

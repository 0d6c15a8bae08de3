import { z } from 'zod';

/** A stored file's hash, or the file itself. */
const fileOrHash = z.union([z.string().regex(/^[0-9a-f]{16}$/), z.record(z.string(), z.unknown())]);

/** What a new session runs on: an example by name, three files, or what an ended session left. */
export const newSessionMessage = z.union([
  z.strictObject({
    by: z.string().trim().min(1).max(40),
    example: z.string().min(1).max(40),
  }),
  z.strictObject({
    by: z.string().trim().min(1).max(40),
    /** Number of the session whose trains stand where it left them. */
    after: z.int().min(1),
  }),
  z.strictObject({
    by: z.string().trim().min(1).max(40),
    files: z.strictObject({ layout: fileOrHash, stock: fileOrHash, timetable: fileOrHash }),
  }),
]);
export type NewSessionMessage = z.infer<typeof newSessionMessage>;

import { z } from 'zod';
import { disturbancesSchema } from '../files/disturbances-schema.js';

/** The kinds of disturbances a board lets people choose, as the file of disturbances has them. */
export {
  disturbancesSchema,
  type DisturbancesFile,
  type Distribution,
} from '../files/disturbances-schema.js';

export const dispatchingWay = z
  .enum(['plan', 'booked', 'first-come', 'priority'])
  .meta({ description: 'with plans, or without and who is asked first' });

const storedHash = z.string().regex(/^[0-9a-f]{16}$/);

/** Asks for sessions to be rehearsed in the background, on the files of the session that runs. */
export const rehearsalsMessage = z.strictObject({
  sessions: z.int().min(1).max(5000).default(100),
  seed: z.int().min(1).max(2_000_000_000).default(1).meta({ description: 'the first of them' }),
  dispatching: dispatchingWay.default('plan'),
  disturbances: disturbancesSchema
    .optional()
    .meta({ description: 'a file of disturbances; absent: the usual ones' }),
  rules: storedHash
    .optional()
    .meta({ description: 'hash of stored staging rules to be followed; absent: none' }),
  returns: z.boolean().default(false).meta({
    description: 'whether the trains return to where they began before each session ends',
  }),
  against: z
    .strictObject({
      timetable: storedHash
        .optional()
        .meta({ description: 'hash of a stored timetable; absent: the session’s' }),
      dispatching: dispatchingWay.optional().meta({ description: 'absent: the same' }),
      rules: storedHash
        .nullable()
        .optional()
        .meta({ description: 'hash of stored staging rules; null: none; absent: the same' }),
    })
    .optional()
    .meta({ description: 'another way, with the same seeds, to compare' }),
});
export type RehearsalsMessage = z.infer<typeof rehearsalsMessage>;

/** Rows of a table: a name, then what there is to say. */
const rows = z.array(z.array(z.string()).readonly()).readonly();

/** What the sessions came to, in words and by the names of its pictures and tables. */
export const rehearsedView = z.strictObject({
  title: z.string(),
  rows,
  pictures: z.array(z.strictObject({ name: z.string(), title: z.string() })).readonly(),
  tables: z.array(z.string()).readonly(),
});
export type RehearsedView = z.infer<typeof rehearsedView>;

/** The rehearsals that go on, or the last ones. */
export const rehearsalsView = z.strictObject({
  ok: z.literal(true),
  usual: disturbancesSchema.meta({ description: 'what goes wrong where nothing else is said' }),
  rehearsals: z
    .strictObject({
      state: z.enum(['running', 'ended', 'lost']),
      done: z.int(),
      of: z.int(),
      took: z.number().meta({ description: 'real ms since they began, or until they ended' }),
      left: z.number().nullable().meta({ description: 'real ms that the rest will take, about' }),
      why: z.string().nullable().meta({ description: 'why they were lost' }),
      first: rehearsedView.nullable().meta({ description: 'once they have ended' }),
      second: rehearsedView.nullable().meta({ description: 'the other way, if there is one' }),
      comparison: rows.nullable(),
      files: z.int().meta({ description: 'rises when the files to fetch are others' }),
    })
    .nullable()
    .meta({ description: 'null: none were begun' }),
});
export type RehearsalsView = z.infer<typeof rehearsalsView>;

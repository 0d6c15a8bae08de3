import { z } from 'zod';

/** Asks for a plan by which every train returns to where the session began, or for one to be carried out. */
export const returnMessage = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('plan') }),
  z.strictObject({
    kind: z.literal('carry-out'),
    by: z.string().trim().min(1).max(40),
    plan: z.int().min(1).meta({ description: 'number of the plan that was looked at' }),
  }),
]);
export type ReturnMessage = z.infer<typeof returnMessage>;

const time = z.number().meta({ description: 'physical ms, as expected' });

/** A return to start: whether it can be asked for now, and the last plan with how far it has come. */
export const returnView = z.strictObject({
  ok: z.literal(true),
  barred: z
    .strictObject({ code: z.string(), text: z.string() })
    .nullable()
    .meta({ description: 'why no plan can be made now; null: one can' }),
  plan: z
    .strictObject({
      number: z.int(),
      state: z.enum(['planned', 'running', 'stopped', 'ended']),
      moves: z
        .array(
          z.strictObject({
            train: z.string(),
            text: z.string(),
            isHome: z.boolean().meta({ description: 'whether it ends where the train began' }),
            time,
            stage: z.enum(['to-come', 'under-way', 'made', 'failed', 'given-up']),
            why: z.string().nullable().meta({ description: 'why it is refused, or was at last' }),
          }),
        )
        .readonly(),
      left: z
        .array(
          z.strictObject({
            train: z.string(),
            code: z.enum(['not-to-be-moved', 'no-start', 'no-way', 'in-the-way', 'not-found']),
            why: z.string(),
            mend: z.string(),
          }),
        )
        .readonly()
        .meta({ description: 'trains that a person must see to' }),
      there: z.array(z.string()).readonly().meta({ description: 'trains that need no move' }),
      time,
      isBest: z.boolean().meta({
        description: 'whether it is ruled out that more can be brought back, or with fewer moves',
      }),
    })
    .nullable()
    .meta({ description: 'null: none was made in this session' }),
});
export type ReturnView = z.infer<typeof returnView>;

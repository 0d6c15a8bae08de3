import { z } from 'zod';
import { clockText } from '../files/scalars.js';
import { callSchema } from '../files/timetable-schema.js';

const index = z.int().min(0);
const fastTime = z.number().meta({ description: 'fast-clock ms since midnight' });

/** A dispatcher's lever: a command whose effect can be asked for before it is given. */
export const leverSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('hold-train'), train: index, hold: z.boolean() }),
  z.strictObject({
    kind: z.literal('close-track'),
    element: index,
    reason: z.string().trim().min(1).max(60),
  }),
  z.strictObject({ kind: z.literal('reopen-track'), element: index }),
  z.strictObject({
    kind: z.literal('choose-track'),
    train: index,
    service: index,
    call: index,
    track: z.string().max(60).nullable(),
  }),
  z.strictObject({ kind: z.literal('go-first'), train: index, before: index, first: z.boolean() }),
  z.strictObject({
    kind: z.literal('cancel-services'),
    train: index,
    service: index,
    through: index,
  }),
  z.strictObject({ kind: z.literal('restore-services'), train: index, service: index }),
  z.strictObject({
    kind: z.literal('add-service'),
    train: index,
    service: z.strictObject({
      name: z.string().trim().min(1).max(60),
      calls: z.array(callSchema).min(1).max(60).meta({
        description:
          'as in a timetable file; without any time the train goes as soon as it can; one alone is where it is to go',
      }),
      notBefore: clockText.optional(),
    }),
    before: index
      .nullable()
      .meta({ description: 'the service before which it is run; null: where its times belong' }),
  }),
]);
export type Lever = z.infer<typeof leverSchema>;

/** Asks what a command would change, if nothing else happened. */
export const whatIfMessage = z.strictObject({ command: leverSchema });
export type WhatIfMessage = z.infer<typeof whatIfMessage>;

const lateness = z
  .strictObject({
    total: z.number().meta({ description: 'fast-clock ms' }),
    weighted: z
      .number()
      .meta({ description: 'the same, each train counted by 9 less its priority, at least once' }),
  })
  .meta({ description: 'lateness of all booked arrivals until then, together' });

/** What a command would change. Trains, services and calls by their numbers. */
export const whatIfView = z.strictObject({
  ok: z.literal(true),
  from: fastTime,
  until: fastTime,
  refusal: z
    .string()
    .nullable()
    .meta({ description: 'why the engine would refuse the command; null: it would take it' }),
  changes: z
    .array(
      z.strictObject({
        train: index,
        service: index,
        call: index,
        before: fastTime.nullable().meta({ description: 'null: not by then' }),
        after: fastTime.nullable().meta({ description: 'null: not by then' }),
        station: index,
        added: z.boolean().meta({ description: 'only with the command its service is run at all' }),
        cancelled: z.boolean().meta({ description: 'with the command its service is not run' }),
      }),
    )
    .readonly()
    .meta({ description: 'arrivals that come half a minute or more earlier or later' }),
  compared: z.int().min(0).meta({ description: 'how many arrivals were compared' }),
  lateness: z.strictObject({ before: lateness, after: lateness }),
  standing: z
    .array(z.strictObject({ train: index, why: z.string(), anyway: z.boolean() }))
    .readonly()
    .meta({
      description: 'trains that stand then, but for the timetable; anyway: without it, too',
    }),
});
export type WhatIfView = z.infer<typeof whatIfView>;

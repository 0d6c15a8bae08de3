import { z } from 'zod';

/** Nothing lasts longer than a day, s. */
const DAY = 86_400;
const least = z.number().min(0).max(DAY);
const share = z.number().min(0).max(100).meta({ description: 'percent of them that are hit' });

/** How a disturbance is spread; every value is at least zero, in the unit of what it is used for. */
export const distributionSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('fixed'), value: least }),
  z
    .strictObject({ kind: z.literal('uniform'), least, most: least })
    .refine(({ least, most }) => least <= most, { message: 'most is below least', path: ['most'] }),
  z.strictObject({
    kind: z.literal('exponential'),
    mean: z.number().positive().max(DAY),
    most: z
      .number()
      .positive()
      .max(DAY)
      .optional()
      .meta({ description: 'what lies above counts as this' }),
  }),
  z
    .strictObject({
      kind: z.literal('normal'),
      mean: least,
      deviation: z.number().positive(),
      least: least.meta({ description: 'what lies below is drawn anew' }),
      most: least.meta({ description: 'what lies above is drawn anew' }),
    })
    .refine(({ least, most }) => least < most, {
      message: 'most is not above least',
      path: ['most'],
    }),
]);

/** What goes wrong in rehearsals, and how often; what is left out doesn't happen. */
export const disturbancesSchema = z.strictObject({
  kind: z.literal('blockbell-disturbances'),
  version: z.literal(1),
  name: z.string().optional(),
  lateStarts: z
    .strictObject({ share, by: distributionSchema })
    .optional()
    .meta({ description: 'services not ready for their first departure; by fast-clock seconds' }),
  longerCalls: z
    .strictObject({ share, by: distributionSchema })
    .optional()
    .meta({ description: 'calls on the way that take longer; by fast-clock seconds' }),
  slowTrains: z
    .strictObject({ share, by: distributionSchema })
    .optional()
    .meta({ description: 'trains that run slower all session long; by percent of their speed' }),
  trainFailures: z
    .strictObject({ share, lasts: distributionSchema })
    .optional()
    .meta({ description: 'services whose train stops dead on the way; physical seconds' }),
  turnoutFailures: z
    .strictObject({ perHour: z.number().min(0).max(1000), lasts: distributionSchema })
    .optional()
    .meta({
      description: 'drives that heed no command, so many an hour of running; physical seconds',
    }),
  lostContacts: z.strictObject({ share, lasts: distributionSchema }).optional().meta({
    description: 'sections that read free soon after they became occupied; physical seconds',
  }),
});

export type Distribution = z.output<typeof distributionSchema>;
export type DisturbancesFile = z.output<typeof disturbancesSchema>;

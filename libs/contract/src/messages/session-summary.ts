import { z } from 'zod';

const count = z.int().min(0);
const fast = z.number().meta({ description: 'fast-clock ms' });

/** How a stored session went, and how well its locomotives and detectors told who is where. */
export const sessionSummaryView = z.strictObject({
  kind: z.literal('blockbell-session-summary'),
  version: z.literal(1),
  layout: z.string(),
  timetable: z.string(),
  duration: z.number().meta({ description: 'physical ms' }),
  fast,
  services: z
    .array(
      z.strictObject({
        service: z.string(),
        name: z.string(),
        train: z.string(),
        run: z.boolean(),
        late: fast.nullable(),
        entry: fast,
        own: fast,
        recovered: fast,
        waits: z
          .array(
            z.strictObject({
              for: z.string().nullable(),
              place: z.string(),
              why: z.string(),
              time: fast,
            }),
          )
          .readonly(),
      }),
    )
    .readonly(),
  alarms: z.array(z.strictObject({ kind: z.string(), count, first: z.string() })).readonly(),
  locomotives: z
    .array(
      z.strictObject({
        locomotive: z.string(),
        name: z.string(),
        train: z.string().nullable(),
        address: z.string(),
        visits: count,
        answered: count,
        verdict: z.enum([
          'good',
          'seldom answers',
          'never answers',
          'known to be silent',
          'not seen',
        ]),
      }),
    )
    .readonly(),
  detectors: z
    .array(
      z.strictObject({
        section: z.string(),
        place: z.string(),
        readsDecoders: z.boolean(),
        occupied: count,
        flickers: count,
        strange: count,
        visits: count,
        read: count,
        misread: count,
        verdict: z.enum([
          'good',
          'flickers',
          'reads seldom',
          'reads nobody',
          'misreads',
          'not used',
        ]),
      }),
    )
    .readonly(),
});
export type SessionSummaryView = z.infer<typeof sessionSummaryView>;

export const sessionSummaryAnswer = z.strictObject({
  ok: z.literal(true),
  summary: sessionSummaryView,
  torn: z
    .string()
    .nullable()
    .meta({ description: 'what of the journal is left out since it is torn, in a sentence' }),
  tables: z
    .record(z.string(), z.string())
    .meta({ description: 'services, alarms, locomotives and detectors as CSV' }),
});
export type SessionSummaryAnswer = z.infer<typeof sessionSummaryAnswer>;

import { z } from 'zod';

/** Asks for the check of a timetable against the layout and stock of the session that runs. */
export const timetableCheckMessage = z.strictObject({
  timetable: z
    .union([z.string().regex(/^[0-9a-f]{16}$/), z.record(z.string(), z.unknown())])
    .optional()
    .meta({ description: 'A timetable file, or the hash of a stored one; absent: the session’s' }),
});
export type TimetableCheckMessage = z.infer<typeof timetableCheckMessage>;

const fastTime = z.number().meta({ description: 'fast-clock ms since midnight' });

const timeChange = z.strictObject({
  service: z.string(),
  call: z.int().min(0).meta({ description: 'index of the call within the service' }),
  what: z.enum(['arrive', 'depart']),
  from: z.string(),
  to: z.string(),
});

/** Something in a timetable that trains can't keep. */
export const findingView = z.strictObject({
  kind: z.enum([
    'running-time',
    'dwell',
    'turn-round',
    'workings-apart',
    'track-conflict',
    'no-room',
    'too-long',
    'no-way',
    'transfer',
    'outside-session',
  ]),
  weight: z.enum(['breaks', 'tight']),
  services: z.array(z.string()).readonly(),
  place: z.string(),
  stations: z.array(z.string()).readonly(),
  from: fastTime,
  until: fastTime,
  missing: z
    .number()
    .meta({ description: 'fast-clock ms; for too-long model mm, for no-room trains' }),
  text: z.string(),
  proposal: z.strictObject({ text: z.string(), changes: z.array(timeChange).readonly() }),
});
export type FindingView = z.infer<typeof findingView>;

/** What a check found. */
export const timetableCheckView = z.strictObject({
  ok: z.literal(true),
  faults: z
    .array(z.strictObject({ place: z.string(), text: z.string(), mend: z.string() }))
    .readonly()
    .meta({ description: 'faults of form; with one, nothing else was looked at' }),
  findings: z.array(findingView).readonly(),
});
export type TimetableCheckView = z.infer<typeof timetableCheckView>;

const storedFile = z.strictObject({
  hash: z.string(),
  kind: z.enum(['layout', 'stock', 'timetable', 'staging-rules']),
  name: z.string(),
  layout: z.string().nullable().meta({ description: 'id of the layout that it is, or is for' }),
  storedAt: z.string(),
});
export type StoredFileView = z.infer<typeof storedFile>;

/** A file that was kept. */
export const storedFileAnswer = z.strictObject({ ok: z.literal(true), file: storedFile });
/** All files that are kept. */
export const storedFilesAnswer = z.array(storedFile);

import { z } from 'zod';
import { deltaMessage, snapshotMessage } from './views.js';

/**
 * What is stored of sessions, to be looked at again. A session's time begins anew each time the server opens it, so a moment is
 * the number of that opening (`run`) and physical ms in it (`at`); `fast` is the fast clock's ms then.
 */
const index = z.int().min(0);
const at = z.number();

/** A session as the list of stored sessions shows it. */
export const storedSessionView = z.strictObject({
  id: index,
  name: z.string(),
  /** ISO 8601, UTC. */
  createdAt: z.string(),
  /** Null while it goes on. */
  endedAt: z.string().nullable(),
  /** How it ended, in words. */
  ending: z.string().nullable(),
  /** Version of the engine that ran it last, as its journal names it; null: an older program kept it, which named none. */
  engine: z.string().nullable(),
  /** Physical ms from its beginning to the last that was written down of it; null: that can't be read. */
  length: z.number().nullable(),
  /** Physical ms that were recorded and are kept. */
  recorded: z.number(),
  /** Alarms raised in what is kept. */
  alarms: index,
});
export type StoredSessionView = z.infer<typeof storedSessionView>;
export const storedSessionList = z.array(storedSessionView);

export const recordedSpan = z.strictObject({
  run: index,
  from: at,
  until: at,
  /** Of the fast clock. */
  fromFast: z.number(),
  untilFast: z.number(),
});
export type RecordedSpan = z.infer<typeof recordedSpan>;

/** Something worth going to: an alarm, or what a person decided; `in-hand` and `given-back`: took from the timetable. */
export const recordedMark = z.strictObject({
  kind: z.enum(['alarm', 'in-hand', 'given-back', 'decision']),
  run: index,
  at,
  fast: z.number(),
  text: z.string(),
  train: index.nullable(),
});
export type RecordedMark = z.infer<typeof recordedMark>;

/** What there is of one session. */
export const recordingIndex = z.strictObject({
  session: storedSessionView,
  /** One for each opening of which something was recorded. */
  spans: z.array(recordedSpan),
  /** In order: each begins with a key frame and reaches to the next or to a gap. */
  parts: z.array(z.strictObject({ part: index, run: index, from: at, until: at })),
  /** Times of which nothing could be written. */
  gaps: z.array(z.strictObject({ run: index, from: at, until: at })),
  marks: z.array(recordedMark),
});
export type RecordingIndex = z.infer<typeof recordingIndex>;

/** A key frame and what changed after it. */
export const recordingPart = z.strictObject({
  part: index,
  run: index,
  snapshot: snapshotMessage,
  deltas: z.array(deltaMessage),
});
export type RecordingPart = z.infer<typeof recordingPart>;

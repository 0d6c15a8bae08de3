import type { StagingRulesFile } from '@blockbell/railway';
import { z } from 'zod';
import { DEEPEST, nestsWithin } from '../files/nesting.js';
import { stagingRulesSchema } from '../files/staging-rules-schema.js';
import { leverSchema } from './what-if.js';

const index = z.int().min(0);

/** A file of staging rules; described where the files are, since it is made of conditions within conditions. */
const stagingRules = z
  .looseObject({ kind: z.literal('blockbell-staging-rules') })
  .refine(
    (file) => nestsWithin(file, DEEPEST) && stagingRulesSchema.safeParse(file).success,
    'this is no file of staging rules',
  )
  .meta({
    description:
      'a file of staging rules, as docs/schemas/blockbell-staging-rules.schema.json has it',
  }) as unknown as z.ZodType<StagingRulesFile>;

/** Every command a person may give; the same shapes as the engine's, plus the pace of a simulated layout. */
export const commandSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('power-up') }),
  z.strictObject({ kind: z.literal('confirm-place'), train: index, heading: index }),
  z.strictObject({ kind: z.literal('confirm-absent'), train: index }),
  z.strictObject({ kind: z.literal('confirm-clear'), block: index }),
  z.strictObject({ kind: z.literal('start') }),
  z.strictObject({ kind: z.literal('pause') }),
  z.strictObject({ kind: z.literal('resume') }),
  z.strictObject({ kind: z.literal('hold-departures'), hold: z.boolean() }),
  z.strictObject({ kind: z.literal('stop-all') }),
  z.strictObject({ kind: z.literal('cut-power') }),
  z.strictObject({ kind: z.literal('set-clock-ratio'), ratio: z.number().min(1).max(60) }),
  z.strictObject({ kind: z.literal('end-session') }),
  z.strictObject({ kind: z.literal('acknowledge-alarm'), alarm: index }),
  z.strictObject({ kind: z.literal('declare-identity'), block: index, train: index }),
  z.strictObject({ kind: z.literal('release-train'), train: index }),
  z.strictObject({
    kind: z.literal('set-route'),
    train: index,
    block: index,
    route: index.optional(),
  }),
  z.strictObject({ kind: z.literal('give-back-route'), train: index }),
  z.strictObject({ kind: z.literal('turn-round'), train: index }),
  z.strictObject({ kind: z.literal('take-in-hand'), train: index, take: z.boolean() }),
  z.strictObject({ kind: z.literal('drive'), train: index, speed: index }),
  ...leverSchema.options,
  z.strictObject({
    kind: z.literal('follow-staging-rules'),
    rules: stagingRules.nullable(),
  }),
]);

export const commandMessage = z.strictObject({
  /** Who gives it, as shown in the log. */
  by: z.string().trim().min(1).max(40),
  command: commandSchema,
  /** The picture it was given by; what another person did to the same train or block since then comes first. */
  seen: z.strictObject({ epoch: z.string().max(60), revision: index }).optional(),
});
export type CommandMessage = z.infer<typeof commandMessage>;

export const paceMessage = z.strictObject({
  by: z.string().trim().min(1).max(40),
  pace: z.number().min(0.1).max(60),
});
export type PaceMessage = z.infer<typeof paceMessage>;

/** Who drives a train from now on; null: nobody in particular. */
export const crewMessage = z.strictObject({
  by: z.string().trim().min(1).max(40),
  train: index,
  crew: z.string().trim().min(1).max(40).nullable(),
});
export type CrewMessage = z.infer<typeof crewMessage>;

export const answerMessage = z.discriminatedUnion('ok', [
  z.strictObject({ ok: z.literal(true) }),
  z.strictObject({
    ok: z.literal(false),
    refusal: z.strictObject({ code: z.string(), text: z.string() }),
  }),
]);
export type AnswerMessage = z.infer<typeof answerMessage>;

/** Socket events. Server → board: `snapshot`, `delta`. Board → server: the others, each answered. */
export const EVENTS = {
  snapshot: 'snapshot',
  delta: 'delta',
  command: 'command',
  pace: 'pace',
  crew: 'crew',
  resync: 'resync',
} as const;

import type { Fault } from '@blockbell/railway';
import { z } from 'zod';
import { parseJson } from './parse-json.js';
import { clockText, serviceId, workingId } from './scalars.js';
import { schemaFaults } from './schema-faults.js';

/** A file of regular-interval patterns: which services are run again and again, and by which trains in turn. */
const patternSchema = z.strictObject({
  kind: z.literal('blockbell-pattern'),
  version: z.literal(1),
  patterns: z.array(
    z.strictObject({
      services: z
        .array(serviceId)
        .min(1)
        .meta({ description: 'what a train runs in one round, in order' }),
      every: z.number().positive().meta({ description: 'fast-clock minutes between rounds' }),
      from: clockText.meta({ description: 'first departure' }),
      until: clockText.meta({ description: 'no round begins after it' }),
      workings: z.array(workingId).min(1).meta({ description: 'take the rounds in turn' }),
    }),
  ),
});

export type PatternFile = z.output<typeof patternSchema>;

export type ReadPattern =
  | { readonly ok: true; readonly file: PatternFile }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Reads a file of patterns; whether its names are there is looked at where it is applied to a timetable. */
export function readPattern(text: string): ReadPattern {
  const parsed = parseJson(text);
  if (!parsed.ok) return parsed;
  const read = patternSchema.safeParse(parsed.json);
  return read.success
    ? { ok: true, file: read.data }
    : { ok: false, faults: schemaFaults(parsed.json, read.error.issues) };
}

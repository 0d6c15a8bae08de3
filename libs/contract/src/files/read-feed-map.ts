import type { Fault } from '@blockbell/railway';
import { z } from 'zod';
import { parseJson } from './parse-json.js';
import { plainId, stationId, text, workingId } from './scalars.js';
import { schemaFaults } from './schema-faults.js';

/** How a public-transport feed is brought to a model: which day, which stops are which stations, who runs what. */
const feedMapSchema = z.strictObject({
  kind: z.literal('blockbell-feed-map'),
  version: z.literal(1),
  date: z
    .string()
    .regex(/^\d{8}$/)
    .meta({ description: 'the day whose trips are taken, YYYYMMDD' }),
  stops: z
    .record(text, stationId)
    .meta({ description: 'station of each stop_id; others are passed over' }),
  blocks: z
    .record(text, workingId)
    .meta({ description: 'working of each block_id; trips of other blocks are left out' }),
  tracks: z
    .record(stationId, z.array(plainId))
    .optional()
    .meta({ description: 'by station: its tracks in order of preference' }),
});

export type FeedMap = z.output<typeof feedMapSchema>;

export type ReadFeedMap =
  | { readonly ok: true; readonly map: FeedMap }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Reads a feed map; whether its names are there is looked at where it is used. */
export function readFeedMap(content: string): ReadFeedMap {
  const parsed = parseJson(content);
  if (!parsed.ok) return parsed;
  const read = feedMapSchema.safeParse(parsed.json);
  return read.success
    ? { ok: true, map: read.data }
    : { ok: false, faults: schemaFaults(parsed.json, read.error.issues) };
}

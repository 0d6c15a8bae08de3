import type { StagingRulesFile, TrackCondition, TrainCondition } from '@blockbell/railway';
import { z } from 'zod';
import { clockText, length, plainId, stationId, text, trainClass, trainId } from './scalars.js';

const minutes = z.int().meta({ minimum: 1, maximum: 1440, description: 'fast-clock minutes' });
const seed = z.int().meta({
  minimum: 0,
  maximum: 2147483647,
  description: 'the same seed gives the same choices',
});

export const trainCondition: z.ZodType<TrainCondition> = z
  .lazy(() =>
    z.discriminatedUnion('is', [
      z.strictObject({ is: z.literal('class'), of: z.array(trainClass) }),
      z.strictObject({ is: z.literal('train'), of: z.array(trainId) }),
      z.strictObject({ is: z.enum(['longer', 'shorter']), than: length }),
      z.strictObject({ is: z.literal('leaving'), within: minutes }),
      z.strictObject({ is: z.literal('staying') }),
      z.strictObject({ is: z.literal('turning') }),
      z.strictObject({ is: z.literal('between'), from: clockText, until: clockText }),
      z.strictObject({ is: z.enum(['all', 'any']), of: z.array(trainCondition) }),
      z.strictObject({ is: z.literal('not'), of: trainCondition }),
    ]),
  )
  .meta({ id: 'trainCondition', description: 'what may be asked of a train' });

export const trackCondition: z.ZodType<TrackCondition> = z
  .lazy(() =>
    z.discriminatedUnion('is', [
      z.strictObject({ is: z.literal('track'), of: z.array(plainId) }),
      z.strictObject({ is: z.literal('empty') }),
      z.strictObject({ is: z.enum(['longer', 'shorter']), than: length }),
      z.strictObject({ is: z.literal('burying-nobody') }),
      z.strictObject({ is: z.literal('not-buried') }),
      z.strictObject({ is: z.literal('same-class') }),
      z.strictObject({ is: z.literal('keeping-free'), tracks: z.int().meta({ minimum: 1 }) }),
      z.strictObject({ is: z.enum(['all', 'any']), of: z.array(trackCondition) }),
      z.strictObject({ is: z.literal('not'), of: trackCondition }),
    ]),
  )
  .meta({ id: 'trackCondition', description: 'what may be asked of a track for a train' });

export const trackOrder = z
  .array(
    z.discriminatedUnion('by', [
      z.strictObject({
        by: z.enum([
          'least-spare',
          'most-spare',
          'fewest-buried',
          'call',
          'list',
          'fullest',
          'emptiest',
          'rotation',
        ]),
      }),
      z.strictObject({ by: z.literal('random'), seed }),
    ]),
  )
  .meta({ description: 'the first that tells two tracks apart decides' });

export const departureOrder = z
  .array(
    z.discriminatedUnion('by', [
      z.strictObject({ by: z.enum(['timetable', 'longest-waiting', 'rotation', 'priority']) }),
      z.strictObject({ by: z.literal('class'), of: z.array(trainClass) }),
      z.strictObject({ by: z.literal('random'), seed }),
    ]),
  )
  .meta({ description: 'the first that tells two trains apart decides' });

export const fallback = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('hold'), minutes }),
  z.strictObject({
    do: z.literal('take'),
    only: trackCondition.exactOptional(),
    order: trackOrder,
  }),
  z.strictObject({
    do: z.literal('overflow'),
    to: stationId.meta({ description: 'another staging yard, where the train goes instead' }),
  }),
  z.strictObject({ do: z.literal('ask') }),
]);

const request = z.strictObject({
  when: trainCondition.exactOptional(),
  fewerThan: z.int().meta({ minimum: 1, description: 'trains at the place it goes to' }),
  minutes,
});

const yardRules = z.strictObject({
  yard: stationId,
  arrivals: z
    .array(
      z.strictObject({
        when: trainCondition.exactOptional(),
        only: trackCondition.exactOptional(),
        order: trackOrder,
      }),
    )
    .meta({ description: 'the first that applies and finds a track decides' }),
  nothingFits: z
    .array(fallback)
    .meta({ description: 'one after the other; after the last a person is asked' }),
  departures: z.strictObject({
    order: departureOrder,
    requests: z.array(request),
  }),
  moveUp: z.enum(['on-arrival', 'whenever-free', 'never']),
});

/** The file of staging rules, format version 1. */
export const stagingRulesSchema = z.strictObject({
  kind: z.literal('blockbell-staging-rules'),
  version: z.literal(1),
  id: plainId,
  name: text,
  layout: plainId,
  yards: z.array(yardRules),
}) satisfies z.ZodType<StagingRulesFile>;

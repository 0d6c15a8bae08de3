import type { StockFile } from '@blockbell/railway';
import { z } from 'zod';
import {
  carId,
  count,
  distance,
  length,
  locomotiveId,
  modelSpeed,
  plainId,
  rate,
  text,
  trainClass,
  trainId,
} from './scalars.js';

const speedPoint = z.strictObject({
  step: z.int().meta({ minimum: 1, maximum: 126 }),
  speed: modelSpeed,
});

const decoderNumber = z
  .int()
  .meta({ minimum: 0, maximum: 10239, description: 'short 1 to 127, long 0 to 10239' });

const decoderAddress = z.strictObject({ kind: z.enum(['short', 'long']), number: decoderNumber });

const percent = z.number().meta({ minimum: 0, exclusiveMaximum: 100, description: 'percent' });

const locomotive = z.strictObject({
  id: locomotiveId,
  name: text,
  address: decoderAddress,
  length,
  topSpeed: modelSpeed,
  speedTable: z.strictObject({ forward: z.array(speedPoint), reverse: z.array(speedPoint) }),
  acceleration: rate,
  braking: rate,
  spread: z.strictObject({ speed: percent, braking: percent }),
  answers: z.boolean(),
  runOn: distance,
});

const vehicle = z.union([
  z.strictObject({ locomotive: locomotiveId, facing: z.enum(['forward', 'backward']) }),
  z.strictObject({ car: carId, count }),
]);

/** The rolling stock file, format version 1. */
export const stockSchema = z.strictObject({
  kind: z.literal('blockbell-stock'),
  version: z.literal(1),
  id: plainId,
  name: text,
  locomotives: z.array(locomotive),
  cars: z.array(z.strictObject({ id: carId, name: text, length, detected: z.boolean() })),
  trains: z.array(
    z.strictObject({
      id: trainId,
      label: z.string().meta({ minLength: 1, maxLength: 8 }),
      name: text,
      class: trainClass,
      priority: z.int().meta({ minimum: 1, maximum: 9 }),
      vehicles: z.array(vehicle).meta({ description: 'from the front to the rear' }),
      canReverse: z.boolean(),
      consistAddress: decoderAddress.exactOptional(),
    }),
  ),
}) satisfies z.ZodType<StockFile>;

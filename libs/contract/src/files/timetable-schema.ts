import type { TimetableFile } from '@blockbell/railway';
import { z } from 'zod';
import {
  clockText,
  elementId,
  plainId,
  seconds,
  serviceId,
  stationId,
  text,
  trainClass,
  trainId,
  workingId,
} from './scalars.js';

export const callSchema = z.strictObject({
  station: stationId,
  arrive: clockText.exactOptional(),
  depart: clockText.exactOptional(),
  stop: z.enum(['call', 'pass']).exactOptional(),
  tracks: z
    .array(plainId)
    .meta({ description: 'in order of preference; absent: any track the train fits' })
    .exactOptional(),
  dwell: z.strictObject({ fast: seconds, real: seconds }).exactOptional(),
});

export const serviceSchema = z.strictObject({
  id: serviceId,
  name: text,
  calls: z.array(callSchema),
});

const openServiceSchema = serviceSchema.extend({
  classes: z
    .array(trainClass)
    .meta({ description: 'only trains of these classes may work it; absent: of any' })
    .exactOptional(),
  waitAtMost: z.number().meta({
    exclusiveMinimum: 0,
    description: 'minutes of the fast clock for which a train is looked for after its departure',
  }),
});

/** The timetable file, format version 1. */
export const timetableSchema = z.strictObject({
  kind: z.literal('blockbell-timetable'),
  version: z.literal(1),
  id: plainId,
  name: text,
  layout: plainId,
  stock: plainId,
  day: text,
  clock: z.strictObject({
    start: clockText,
    end: clockText,
    ratio: z.number().meta({ exclusiveMinimum: 0, description: '6 for 6:1' }),
  }),
  services: z.array(serviceSchema),
  openServices: z
    .array(openServiceSchema)
    .meta({ description: 'services that name no train; the rules of the yard choose it' })
    .exactOptional(),
  connections: z.array(
    z.strictObject({
      from: serviceId,
      to: serviceId,
      station: stationId,
      transfer: seconds,
      holdAtMost: seconds,
    }),
  ),
  workings: z.array(
    z.strictObject({ id: workingId, train: trainId, services: z.array(serviceId) }),
  ),
  storedPlaces: z.array(
    z.strictObject({ train: trainId, block: elementId, towards: z.enum(['a', 'b']) }),
  ),
}) satisfies z.ZodType<TimetableFile>;

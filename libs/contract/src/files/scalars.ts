import { ID_PATTERN } from '@blockbell/railway';
import type {
  BusId,
  CarId,
  DistrictId,
  ElementId,
  KilometresPerHour,
  LocomotiveId,
  Millimetres,
  MillimetresPerSecond,
  MillimetresPerSecondSquared,
  Milliseconds,
  SectionId,
  ServiceId,
  StationId,
  TrainId,
  WorkingId,
} from '@blockbell/railway';
import { z } from 'zod';

/**
 * The units and names of the files. Schemas look at shapes and types only; whether a value can be (a length above
 * zero, a known name) is examined by the railway, so that all faults of a file come in one go. Limits stand in the
 * schema's metadata, for editors.
 */
const branded = <T>(schema: z.ZodType<string | number>): z.ZodType<T> =>
  schema as unknown as z.ZodType<T>;

const id = <T>(): z.ZodType<T> => branded<T>(z.string().meta({ pattern: ID_PATTERN.source }));

export const elementId = id<ElementId>();
export const sectionId = id<SectionId>();
export const districtId = id<DistrictId>();
export const busId = id<BusId>();
export const stationId = id<StationId>();
export const locomotiveId = id<LocomotiveId>();
export const carId = id<CarId>();
export const trainId = id<TrainId>();
export const serviceId = id<ServiceId>();
export const workingId = id<WorkingId>();
export const plainId = id<string>();

/** Whole numbers, at least `minimum`. */
const whole = (minimum: number, description: string): z.ZodType<number> =>
  z.int().meta({ minimum, description });

export const length = branded<Millimetres>(whole(1, 'model length in mm'));
export const distance = branded<Millimetres>(whole(0, 'model distance in mm'));
export const modelSpeed = branded<MillimetresPerSecond>(whole(1, 'model speed in mm/s'));
export const rate = branded<MillimetresPerSecondSquared>(whole(1, 'model rate in mm/s²'));
export const duration = branded<Milliseconds>(whole(0, 'physical time in ms'));
export const prototypeSpeed = branded<KilometresPerHour>(
  z.number().meta({ exclusiveMinimum: 0, description: 'prototype speed in km/h' }),
);
export const address = whole(0, 'address on its bus');
export const count = whole(0, 'a number of things');
export const text = z.string();
export const seconds = z.number().meta({ minimum: 0, description: 'seconds' });
export const clockText = z
  .string()
  .meta({ pattern: '^\\d{2}:[0-5]\\d(:[0-5]\\d)?$', description: 'HH:MM or HH:MM:SS' });
export const trainClass = z.enum(['express', 'passenger', 'freight', 'works']);

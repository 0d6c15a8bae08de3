import type { LayoutFile } from '@blockbell/railway';
import { z } from 'zod';
import {
  address,
  busId,
  count,
  distance,
  districtId,
  duration,
  elementId,
  length,
  plainId,
  prototypeSpeed,
  sectionId,
  stationId,
  text,
} from './scalars.js';

const point = z.tuple([z.number(), z.number()]);

const drawing = z
  .strictObject({
    level: plainId,
    ports: z.record(z.string(), point),
    via: z.array(point).exactOptional(),
  })
  .meta({
    description: 'where each port lies, in drawing units; bends between the ends of a block',
  });

const drive = z.strictObject({ address, throwTime: duration, feedback: z.boolean() });
const section = sectionId.nullable();
const element = { id: elementId, draw: drawing.exactOptional() };

const block = z.strictObject({
  ...element,
  kind: z.literal('block'),
  name: text.exactOptional(),
  detection: z
    .array(z.strictObject({ section, length }))
    .meta({ description: 'from a to b; section null where no detector sees the track' }),
  directions: z.enum(['both', 'a-to-b', 'b-to-a']),
  speedLimit: prototypeSpeed.exactOptional(),
  gradient: z.number().meta({ description: 'rise from a to b, in permille' }).exactOptional(),
  electrified: z.boolean().exactOptional(),
  stopMarks: z
    .strictObject({ a: distance.exactOptional(), b: distance.exactOptional() })
    .meta({ description: 'where trains towards a and towards b stop, back from that end' })
    .exactOptional(),
  overlap: z
    .strictObject({ a: distance.exactOptional(), b: distance.exactOptional() })
    .meta({
      description: 'how far beyond that end track is locked for trains towards a and towards b',
    })
    .exactOptional(),
});

const turnout = z.strictObject({
  ...element,
  kind: z.literal('turnout'),
  lengths: z.strictObject({ straight: length, diverging: length }),
  section,
  drive,
  fouling: z.strictObject({ straight: distance, diverging: distance }),
  divergingLimit: prototypeSpeed.exactOptional(),
});

const threeWay = z.strictObject({
  ...element,
  kind: z.literal('three-way'),
  lengths: z.strictObject({ left: length, straight: length, right: length }),
  section,
  drive,
  fouling: z.strictObject({ left: distance, straight: distance, right: distance }),
  divergingLimit: prototypeSpeed.exactOptional(),
});

const crossing = z.strictObject({
  ...element,
  kind: z.literal('crossing'),
  length,
  section,
  fouling: distance,
});

const slip = z.strictObject({
  ...element,
  kind: z.enum(['single-slip', 'double-slip']),
  length,
  section,
  drive,
  fouling: distance,
  slipLimit: prototypeSpeed.exactOptional(),
});

const bufferStop = z.strictObject({ ...element, kind: z.literal('buffer-stop') });

const detectorType = z.strictObject({
  id: plainId,
  reportsIdentity: z.boolean(),
  readsAtOnce: count,
  reportsOrientation: z.boolean().exactOptional(),
  worstDelay: z.strictObject({ occupied: duration, free: duration, report: duration }),
  holdOff: duration,
});

const port = text.meta({ description: 'element.port' });

/** The layout file, format version 1. */
export const layoutSchema = z.strictObject({
  kind: z.literal('blockbell-layout'),
  version: z.literal(1),
  id: plainId,
  name: text,
  scaleRatio: z.number().meta({ exclusiveMinimum: 0, description: '87 for 1:87' }),
  levels: z.array(z.strictObject({ id: plainId, name: text, hidden: z.boolean() })),
  districts: z.array(z.strictObject({ id: districtId, name: text })),
  buses: z.array(
    z.strictObject({
      id: busId,
      name: text,
      silence: z.strictObject({ by: z.enum(['poll', 'heartbeat']), noticedWithin: duration }),
    }),
  ),
  detectorTypes: z.array(detectorType),
  sections: z.array(
    z.strictObject({
      id: sectionId,
      detector: plainId,
      bus: busId,
      address,
      district: districtId,
    }),
  ),
  elements: z.array(
    z.discriminatedUnion('kind', [block, turnout, threeWay, crossing, slip, bufferStop]),
  ),
  joins: z.array(z.tuple([port, port])),
  reversingSections: z.array(
    z.strictObject({
      id: elementId,
      name: text,
      elements: z.array(elementId),
      gaps: z.array(z.strictObject({ port, polarity: z.enum(['normal', 'reversed']) })),
      drive,
    }),
  ),
  stations: z.array(
    z.strictObject({
      id: stationId,
      name: text,
      kind: z.enum(['station', 'junction', 'staging-yard']),
      chainage: z.number(),
      tracks: z.array(
        z.strictObject({
          id: plainId,
          name: text,
          blocks: z.array(elementId),
          platform: z.boolean(),
          callOn: z.boolean().exactOptional(),
        }),
      ),
    }),
  ),
}) satisfies z.ZodType<LayoutFile>;

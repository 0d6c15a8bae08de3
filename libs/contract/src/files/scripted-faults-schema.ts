import { headingOf, type Layout, type Stock } from '@blockbell/railway';
import { z } from 'zod';

/**
 * A file of scripted faults. Sections, elements, trains and districts stand in it by their names; read, they are the
 * numbers of the compiled layout and stock. Times in physical ms, lengths in mm, speeds in mm/s.
 */
export const scriptedFaultsSchema = (layout: Layout, stock: Stock) =>
  z.strictObject({
    kind: z.literal('blockbell-faults'),
    version: z.literal(1),
    faults: z.array(faultSchema(layout, stock)),
  });

function faultSchema(layout: Layout, stock: Stock) {
  const at = z.int().min(0);
  const lasting = { at, duration: z.int().min(1).nullable() };
  const permille = z.int().min(0).max(1000);
  const section = named('section', (name) => layout.sectionByName.get(name));
  const element = named('element', (name) => layout.elementByName.get(name));
  const train = named('train', (name) => stock.trainByName.get(name));
  const district = named('district', (name) => layout.districts.indexOf(name));
  const address = z.strictObject({ kind: z.enum(['short', 'long']), number: z.int().min(0) });
  const messages = {
    ...lasting,
    section: section.nullable(),
    messages: z.enum(['edges', 'reports', 'both']),
  };
  const place = z
    .strictObject({ block: element, towards: z.enum(['a', 'b']) })
    .transform(({ block, towards }) => headingOf(block, towards));

  return z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('dropout'), ...lasting, section }),
    z.strictObject({ kind: z.literal('stuck-detector'), ...lasting, section }),
    z.strictObject({ kind: z.literal('misread'), ...lasting, section, as: address }),
    z.strictObject({ kind: z.literal('late'), ...messages, by: z.int().min(1) }),
    z.strictObject({ kind: z.literal('lost'), ...messages, permille }),
    z.strictObject({ kind: z.literal('duplicated'), ...messages, permille }),
    z.strictObject({ kind: z.literal('reordered'), ...messages }),
    z.strictObject({ kind: z.literal('bus-silence'), ...lasting, bus: busOf(layout) }),
    z.strictObject({ kind: z.literal('silent-decoder'), ...lasting, address }),
    z.strictObject({ kind: z.literal('stall'), ...lasting, train }),
    z.strictObject({ kind: z.literal('run-on'), ...lasting, train, permille: z.int().min(0) }),
    z.strictObject({ kind: z.literal('runaway'), ...lasting, train, speed: z.int() }),
    z.strictObject({ kind: z.literal('slip'), ...lasting, train, permille }),
    z.strictObject({ kind: z.literal('lost-cars'), at, train, length: z.int().min(1) }),
    z.strictObject({ kind: z.literal('cars-lifted'), at, train }),
    z
      .strictObject({ kind: z.literal('coupled'), at, train, other: train })
      .refine((fault) => fault.train !== fault.other, 'a train can’t be hung on behind itself'),
    z.strictObject({ kind: z.literal('hand-moved'), at, train, to: place.nullable() }),
    z.strictObject({ kind: z.literal('stuck-drive'), ...lasting, element }),
    z.strictObject({ kind: z.literal('power-loss'), ...lasting, district }),
    z.strictObject({ kind: z.literal('short'), ...lasting, district }),
  ]);
}

/** The number of something known by its name; `find` gives none, or −1, for a name that nothing has. */
const named = (what: string, find: (name: string) => number | undefined) =>
  z.string().transform((name, context) => {
    const index = find(name) ?? -1;
    if (index >= 0) return index;
    context.addIssue({ code: 'custom', message: `there is no ${what} ${name}` });
    return z.NEVER;
  });

const busOf = (layout: Layout) =>
  z
    .string()
    .refine((name) => layout.file.buses.some(({ id }) => id === name), 'there is no such bus');

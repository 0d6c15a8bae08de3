import type { BlockFile, ElementFile, LayoutFile } from '@blockbell/railway';
import { exampleRailway, type Railway } from '../../support/railways.js';

type Detection = readonly { readonly section: string | null; readonly length: number }[];

/** The passing loop with blocks laid out anew: by id, what is detected of each from its end a on. */
function relaid(blocks: Readonly<Record<string, Detection>>): Railway {
  const { layout, ...rest } = exampleRailway('passing-loop');
  const elements = layout.elements.map((element): ElementFile => {
    const detection = blocks[element.id];
    return element.kind === 'block' && detection !== undefined
      ? { ...element, detection: detection as BlockFile['detection'] }
      : element;
  });
  const used = new Set(
    elements.flatMap((element) =>
      element.kind === 'block' ? element.detection.map(({ section }) => section as string) : [],
    ),
  );
  const sections = layout.sections.filter(({ id }) => used.has(id) || /^T\d/.test(id));
  return { ...rest, layout: { ...layout, elements, sections } satisfies LayoutFile };
}

/** W1 holds both trains, one behind the other. */
export const roomForTwo = (): Railway =>
  relaid({
    W1: [
      { section: 'W1.1', length: 300 },
      { section: 'W1.2', length: 1400 },
      { section: 'W1.3', length: 300 },
    ],
  });

/** L1 is shorter than any train, and most of L2 is not detected at all. */
export const shortAndUnseen = (): Railway =>
  relaid({
    L1: [
      { section: 'L1.1', length: 200 },
      { section: 'L1.3', length: 300 },
    ],
    L2: [
      { section: 'L2.1', length: 300 },
      { section: null, length: 700 },
      { section: 'L2.3', length: 400 },
    ],
  });

import { EXAMPLE_NAMES, exampleFiles } from '@blockbell/examples';
import { blockOf, compileLayout, compileStock, compileTimetable } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { overlap } from '../../apps/board/src/track/box.js';
import { drawLayout } from '../../apps/board/src/track/diagram.js';
import { placeNames, scaled } from '../../apps/board/src/track/name-labels.js';
import { placeOf } from '../../apps/board/src/track/path-shape.js';
import { placeTrainLabels } from '../../apps/board/src/track/train-labels.js';
import type { LabelRequest } from '../../apps/board/src/track/train-labels.js';

/** A letter of the board's text is about this wide, pixels. */
const LETTER = 7.5;
/** Scales from half of what fits a 900 px wide panel to four times that. */
const MAGNIFICATIONS = [0.5, 1, 2, 4];
const PANEL = 900;

describe.each(EXAMPLE_NAMES)('labels on the drawing of %s', (name) => {
  const files = exampleFiles(name);
  const layout = compileLayout(JSON.parse(files.layout));
  const stock = compileStock(JSON.parse(files.stock));
  const timetable = compileTimetable(JSON.parse(files.timetable), layout, stock);
  const diagram = drawLayout(layout);
  if (!diagram) throw new Error(`${name} has no drawing`);
  const fit = PANEL / diagram.box.width;

  /** Every train at the end of its stored place. */
  const requests = (scale: number): LabelRequest[] =>
    timetable.storedPlaces.flatMap((heading, train) => {
      const step = heading === null ? null : layout.blockSteps[heading];
      const stored = stock.trains[train];
      if (heading === null || !step || !stored) return [];
      const { length } = layout.elements[blockOf(heading)] ?? { length: 0 };
      const path = [
        { element: step.element, from: step.leg.from, to: step.leg.to, start: 0, end: length },
      ];
      const spot = (at: number) => {
        const found = placeOf(diagram, path, at);
        return found ? [scaled(found.point, scale)] : [];
      };
      const tail = Math.max(0, length - stored.length);
      const [middle] = spot((length + tail) / 2);
      const [head] = spot(length);
      const [rear] = spot(tail);
      if (!middle || !head || !rear) return [];
      const width = stored.file.label.length * LETTER + 32;
      return [
        { train, width, shortWidth: 50, middle, head, tail: rear, band: [rear, middle, head] },
      ];
    });

  it.each(MAGNIFICATIONS)('cover neither names nor one another at %s times the fit', (times) => {
    const scale = fit * times;
    const { names, field } = placeNames(diagram, scale, (text) => text.length * LETTER);
    const sight = {
      x: diagram.box.x * scale,
      y: diagram.box.y * scale,
      width: diagram.box.width * scale,
      height: diagram.box.height * scale,
    };
    const trains = requests(scale);
    const labels = placeTrainLabels(trains, { names: field, kept: [], sight, choices: new Map() });
    if (times >= 1) expect(labels).toHaveLength(trains.length);
    const boxes = [...names, ...labels].map(({ box }) => box);
    boxes.forEach((box, at) =>
      expect(boxes.slice(at + 1).some((other) => overlap(box, other))).toBe(false),
    );
  });

  it('has the names of all stations and levels when the whole drawing is seen', () => {
    const { names } = placeNames(diagram, fit, (text) => text.length * LETTER);
    const shown = new Set(names.map(({ text }) => text));
    for (const { file } of layout.stations) expect(shown).toContain(file.name);
    for (const level of diagram.grounds) expect(shown).toContain(level.name);
  });
});

import { exampleFiles } from '@blockbell/examples';
import { compileLayout } from '@blockbell/railway';
import type { Layout } from '@blockbell/railway';
import { generateRailway } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { contains, overlap, within } from '../../apps/board/src/track/box.js';
import type { Box } from '../../apps/board/src/track/box.js';
import { drawLayout } from '../../apps/board/src/track/diagram.js';
import type { Diagram } from '../../apps/board/src/track/diagram.js';
import { labelGround } from '../../apps/board/src/track/label-ground.js';
import { lampBox } from '../../apps/board/src/track/lamp-shapes.js';
import { lampSpots } from '../../apps/board/src/track/lamp-spots.js';
import type { LampSpot } from '../../apps/board/src/track/lamp-spots.js';
import { linkBoxes, placeNames, scaled } from '../../apps/board/src/track/name-labels.js';
import { placeOf } from '../../apps/board/src/track/path-shape.js';
import { placeTrainLabels } from '../../apps/board/src/track/train-labels.js';
import type { LabelRequest } from '../../apps/board/src/track/train-labels.js';
import { Chance } from '../support/chance.js';

/** A letter of the board's text is about this wide, pixels. */
const LETTER = 7.5;
const PANEL = { width: 812, height: 400 };
const TRAINS = 60;
const MAGNIFICATIONS = [0.6, 1, 2.5, 8];
/** How often all trains are put elsewhere. */
const SCENES = 6;
const WIDEST = 162;
/** Of all signals, at both ends of each block, one in so many says something. */
const LIT = 25;

const generated = (sections: number): Layout =>
  compileLayout(
    generateRailway({ seed: sections, sections, trains: 2, services: 4, singleLineShare: 0.4 })
      .layout,
  );

const LAYOUTS: readonly { readonly name: string; readonly layout: () => Layout }[] = [
  { name: 'the demo', layout: () => compileLayout(JSON.parse(exampleFiles('demo').layout)) },
  ...[150, 600, 2040].map((sections) => ({
    name: `a generated railway of ${sections} sections`,
    layout: () => generated(sections),
  })),
];

describe.each(LAYOUTS)('trains’ labels on $name', ({ layout }) => {
  const diagram = drawLayout(layout());
  if (!diagram) throw new Error('nothing is drawn');
  const fit = Math.min(PANEL.width / diagram.box.width, PANEL.height / diagram.box.height);

  it.each(MAGNIFICATIONS)(
    'cover neither names nor lit signals nor one another, and none is missing, at %s times the fit',
    (times) => {
      const scale = fit * times;
      const kept = linkBoxes(diagram, scale);
      const headings = diagram.blocks.flatMap(({ element: { index } }) => [
        2 * index,
        2 * index + 1,
      ]);
      const lamps = lampSpots(diagram, headings, scale);
      const letters = (text: string): number => text.length * LETTER;
      const { names, field } = labelGround(diagram, scale, letters, lamps);
      const chance = new Chance(Math.round(times * 1000));
      const [x, y] = [diagram.box.x * scale, diagram.box.y * scale];
      const roomX = Math.max(0, diagram.box.width * scale - PANEL.width);
      const roomY = Math.max(0, diagram.box.height * scale - PANEL.height);
      let choices: ReadonlyMap<number, number> = new Map();
      for (let scene = 0; scene < SCENES; scene += 1) {
        const sight = { x: x + share(chance) * roomX, y: y + share(chance) * roomY, ...PANEL };
        const lit = lamps.filter(() => chance.below(LIT) === 0);
        const requests = Array.from({ length: TRAINS }, (_, train) =>
          requestAt(diagram, scale, sight, train, chance),
        ).filter((request) => request !== null);
        const labels = placeTrainLabels(requests, {
          names: field,
          kept: boxesOf(lit, scale),
          sight,
          choices,
          looks: (train) => train % 3 === 0,
        });
        choices = new Map(labels.map(({ train, choice }) => [train, choice]));
        expect(labels.map(({ train }) => train)).toEqual(requests.map(({ train }) => train));
        expect(labels.filter(({ box }) => !overlap(box, sight))).toEqual([]);
        expectApart(
          labels.map(({ box }) => box),
          [...names.map(({ box }) => box), ...kept, ...boxesOf(lit, scale)],
        );
      }
    },
  );
});

it('in a sight too small for all, each train still has a mark, as near as there is room', () => {
  const layout = generated(150);
  const diagram = drawLayout(layout);
  if (!diagram) throw new Error('nothing is drawn');
  const { field } = placeNames(diagram, 10, () => 40);
  const sight = { x: 0, y: 0, width: 120, height: 90 };
  const requests = Array.from({ length: TRAINS }, (_, train): LabelRequest => {
    const middle = [60, 45] as const;
    return { train, width: 90, shortWidth: 60, middle, head: middle, tail: middle, band: [middle] };
  });
  const labels = placeTrainLabels(requests, { names: field, kept: [], sight, choices: new Map() });
  expect(labels).toHaveLength(TRAINS);
  expectApart(
    labels.map(({ box }) => box),
    [],
  );
  const filled = labels.filter(({ box }) => within(box, sight));
  expect(filled.length).toBeGreaterThan(2);
});

function expectApart(labels: readonly Box[], others: readonly Box[]): void {
  labels.forEach((box, at) => {
    expect(labels.slice(at + 1).filter((other) => overlap(box, other))).toEqual([]);
    expect(others.filter((other) => overlap(box, other))).toEqual([]);
  });
}

const boxesOf = (lamps: readonly LampSpot[], scale: number): readonly Box[] =>
  lamps.map((lamp) => lampBox(lamp, 'proceed', scale));

/** From 0 to 1. */
const share = (chance: Chance): number => chance.below(1001) / 1000;

/** A train somewhere on a block that is seen, with a name of any length; null where the draw falls out of sight. */
function requestAt(
  diagram: Diagram,
  scale: number,
  sight: Box,
  train: number,
  chance: Chance,
): LabelRequest | null {
  const shape = chance.pick(diagram.blocks);
  const width = chance.between(40, WIDEST);
  const [one, other] = [share(chance), share(chance)];
  const { length, index } = shape.element;
  const path = [{ element: index, from: 'a', to: 'b', start: 0, end: length }];
  const spot = (along: number) => {
    const found = placeOf(diagram, path, along * length);
    return found ? [scaled(found.point, scale)] : [];
  };
  const band = [0, 0.25, 0.5, 0.75, 1].flatMap((part) => spot(one + (other - one) * part));
  const [middle] = spot((one + other) / 2);
  const [head] = spot(other);
  const [tail] = spot(one);
  if (!middle || !head || !tail || !contains(sight, middle)) return null;
  return { train, width, shortWidth: Math.min(width, 66), middle, head, tail, band };
}

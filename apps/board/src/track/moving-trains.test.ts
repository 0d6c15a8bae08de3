import { describe, expect, it } from 'vitest';
import { smallLayout } from '../testing/small-layout.js';
import { trainRow } from '../testing/train-row.js';
import { contains, grown } from './box.js';
import type { Box } from './box.js';
import { drawLayout } from './diagram.js';
import type { Point } from './line.js';
import { changedBoxes, MovingTrains } from './moving-trains.js';
import type { TrainPlace } from './moving-trains.js';

const diagram = drawLayout(smallLayout());
if (!diagram) throw new Error('nothing is drawn');
const block = diagram.blocks.toSorted((p, q) => q.line.length - p.line.length)[0];
if (!block) throw new Error('there is no block');
const { element } = block;
const SCALE = 20;

const onBlock = () => [
  { element: element.index, from: 'a', to: 'b', start: 0, end: element.length },
];
const path = onBlock();
const train = (head: number, on = path) =>
  trainRow({
    train: 0,
    length: 100,
    mark: head,
    path: on,
    motion: { since: 0, head, speed: 0, target: 0, acceleration: 0 },
  });

function placesOf(heads: readonly number[], on: readonly (typeof path)[]): readonly TrainPlace[] {
  const trains = new MovingTrains(diagram!);
  return heads.map((head, at) => {
    trains.follow([train(head, on[at])], 0, SCALE, diagram!.box);
    const place = trains.places.get(0);
    if (!place) throw new Error('the train has no place');
    return place;
  });
}

const covers = (boxes: readonly Box[], point: Point | null): boolean =>
  point !== null && boxes.some((box) => contains(grown(box, 1e-9), point));

describe('a train that moves', () => {
  it('looks different between where its ends are and were, and nowhere else', () => {
    const [was, is] = placesOf([200, 260], [path, path]);
    if (!was || !is) throw new Error('there are two places');
    const boxes = changedBoxes(diagram, was, is);
    for (const point of [was.head, is.head, was.tail, is.tail])
      expect(covers(boxes, point)).toBe(true);
    const widths = boxes.map(({ width, height }) => Math.hypot(width, height));
    const step = (60 / element.length) * block.line.length;
    for (const width of widths) expect(width).toBeLessThanOrEqual(step + 1e-9);
  });

  it('looks different as a whole when its way is another, and when it comes or goes', () => {
    const [was, is] = placesOf([200, 200], [path, onBlock()]);
    expect(was).not.toBe(is);
    expect(changedBoxes(diagram, was, is)).toEqual([was?.box, is?.box]);
    expect(changedBoxes(diagram, undefined, is)).toEqual([is?.box]);
    expect(changedBoxes(diagram, was, undefined)).toEqual([was?.box]);
  });

  it('is not drawn anew for a move that nobody would see', () => {
    const least = (0.4 / SCALE / block.line.length) * element.length;
    const [was, same, on] = placesOf([200, 200 + least, 200 + 2 * least], [path, path, path]);
    expect(same).toBe(was);
    expect(on).not.toBe(was);
  });

  it('has a place only while any of its way may be seen', () => {
    const trains = new MovingTrains(diagram);
    const [first] = block.line.points;
    if (!first) throw new Error('the block is not drawn');
    const around = { x: first[0] - 1, y: first[1] - 1, width: 2, height: 2 };
    const far = { ...around, y: diagram.box.y - 100 };
    const seenIn = [around, far, around].map((sight) => {
      const moved = trains.follow([train(200)], 0, SCALE, sight);
      return [moved, trains.places.size];
    });
    expect(seenIn).toEqual([
      [true, 1],
      [true, 0],
      [true, 1],
    ]);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smallLayout } from '../testing/small-layout.js';
import { overlap } from './box.js';
import type { Box } from './box.js';
import { drawLayout } from './diagram.js';
import { LabelField, NOWHERE } from './label-field.js';
import { fullNameAt, placeNames } from './name-labels.js';
import { placeTrainLabels } from './train-labels.js';
import type { LabelRequest } from './train-labels.js';

const box = (x: number, y: number, width = 10, height = 10): Box => ({ x, y, width, height });
const sight = box(0, 0, 900, 500);

/** Trains anywhere in sight, also one on another. */
const requests = fc
  .array(
    fc.record({
      x: fc.integer({ min: 0, max: 900 }),
      y: fc.integer({ min: 0, max: 500 }),
      half: fc.integer({ min: 2, max: 120 }),
      width: fc.integer({ min: 36, max: 90 }),
    }),
    { maxLength: 40 },
  )
  .map((trains) =>
    trains.map(({ x, y, half, width }, train): LabelRequest => ({
      train,
      width,
      shortWidth: 40,
      middle: [x, y],
      head: [x + half, y],
      tail: [x - half, y],
      band: [-1, -0.5, 0, 0.5, 1].map((share) => [x + share * half, y] as const),
    })),
  );
const boxes = fc.array(
  fc
    .record({ x: fc.integer({ min: 0, max: 850 }), y: fc.integer({ min: 0, max: 480 }) })
    .map(({ x, y }) => box(x, y, 50, 14)),
  { maxLength: 25 },
);

describe('a field of labels', () => {
  it('tells the cheapest free place', () => {
    const field = new LabelField();
    field.block(box(0, 0));
    const candidates = [
      { box: box(5, 5), cost: 0 },
      { box: box(20, 0), cost: 2 },
      { box: box(40, 0), cost: 1 },
    ];
    const taken = [1, 2, 3].map(() => {
      const best = field.cheapest(3, (index) => candidates[index] ?? NOWHERE);
      if (best !== null) field.block(candidates[best]?.box ?? box(0, 0));
      return best;
    });
    expect(taken).toEqual([2, 1, null]);
  });

  it('counts what a label would cover, also in the field below', () => {
    const below = new LabelField();
    below.soften([3, 3], 4);
    const field = new LabelField(below, 0.5);
    field.soften([4, 4], 1);
    expect(field.costOf(box(0, 0))).toBe(3);
    expect(field.costOf(box(100, 0))).toBe(0);
  });
});

describe('labels of trains', () => {
  it('never cover one another, a name or a mark', () => {
    fc.assert(
      fc.property(requests, boxes, boxes, (trains, names, kept) => {
        const field = new LabelField();
        for (const name of names) field.block(name);
        const placed = placeTrainLabels(trains, { names: field, kept, sight, choices: new Map() });
        placed.forEach((label, at) => {
          expect([...names, ...kept].some((taken) => overlap(taken, label.box))).toBe(false);
          expect(placed.slice(at + 1).some((other) => overlap(other.box, label.box))).toBe(false);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('are all shown while there is room, above the train where that is free', () => {
    const trains = [100, 300, 500].map((x, train): LabelRequest => ({
      train,
      width: 50,
      shortWidth: 40,
      middle: [x, 200],
      head: [x + 40, 200],
      tail: [x - 40, 200],
      band: [[x, 200]],
    }));
    const placed = placeTrainLabels(trains, {
      names: new LabelField(),
      kept: [],
      sight,
      choices: new Map(),
    });
    expect(placed.map(({ choice, away }) => [choice, away])).toEqual([
      [0, false],
      [0, false],
      [0, false],
    ]);
  });

  it('stay where they were while that place is free', () => {
    fc.assert(
      fc.property(requests, (trains) => {
        const around = { names: new LabelField(), kept: [], sight };
        const first = placeTrainLabels(trains, { ...around, choices: new Map() });
        const choices = new Map(first.map(({ train, choice }) => [train, choice]));
        expect(placeTrainLabels(trains, { ...around, choices })).toEqual(first);
      }),
      { numRuns: 40 },
    );
  });
});

const lengthOf = ({ blocks }: NonNullable<ReturnType<typeof drawLayout>>): number =>
  Math.max(...blocks.map(({ line }) => line.length));

describe('names on the drawing', () => {
  const diagram = drawLayout(smallLayout());
  const named = (scale: number) =>
    diagram ? placeNames(diagram, scale, (text) => text.length * 7).names : [];

  it('never lie on one another, at any scale', () => {
    for (const scale of [4, 9, 14, 30, 60]) {
      const names = named(scale);
      names.forEach(({ box: one }, at) =>
        expect(names.slice(at + 1).some(({ box: other }) => overlap(one, other))).toBe(false),
      );
    }
  });

  it('put parallel tracks of a station in one column, each on its own track', () => {
    const tracks = named(14).filter(({ kind }) => kind === 'track');
    const middles = tracks.map(({ box: { x, width } }) => x + width / 2);
    expect(tracks.map(({ text }) => text)).toEqual(['1', '2']);
    expect(new Set(middles).size).toBe(1);
  });

  it('shorten a track’s name that would cover most of its track, and know the whole of it', () => {
    const layout = smallLayout();
    const [station] = layout.stations;
    const long = (name: string): string => `Siding for the freight trains ${name}`;
    const tracks = station!.tracks.map((track) => ({ ...track, name: long(track.name) }));
    const longNamed = drawLayout({ ...layout, stations: [{ ...station!, tracks }] })!;
    for (const scale of [14, 20]) {
      const names = placeNames(longNamed, scale, (text) => text.length * 7).names;
      const shown = names.filter(({ kind }) => kind === 'track');
      expect(shown.map(({ full, text }) => full ?? text)).toEqual([long('1'), long('2')]);
      expect(new Set(shown.map(({ text }) => text)).size).toBe(2);
      expect(shown.every(({ full }) => full !== undefined)).toBe(true);
      for (const { text, full, box: at } of shown) {
        expect(text).toMatch(/^S.*…(.* )?[12]$/);
        expect(at.width).toBeLessThanOrEqual(Math.max(42, 0.3 * lengthOf(longNamed) * scale) + 8);
        expect(fullNameAt(names, [at.x + at.width / 2, at.y + 1])).toBe(full);
        expect(fullNameAt(names, [at.x - 1, at.y])).toBeNull();
      }
    }
    expect(named(14).every(({ full }) => full === undefined)).toBe(true);
  });

  it('name levels and stations at once, other blocks when there is room', () => {
    expect(named(14).map(({ text }) => text)).toEqual(
      expect.arrayContaining(['Open', 'Under', 'Smallham']),
    );
    expect(named(14).some(({ text }) => text === 'W')).toBe(false);
    expect(named(30).some(({ text }) => text === 'W')).toBe(true);
  });
});

import { compileLayout, compileStock } from '@blockbell/railway';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle, passingLoop } from '../test-support/layouts.js';
import { resumeSimulatedLayout } from '../simulated-layout.js';
import { openRig, placeOf } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';
import type { Fault } from './fault.js';

const round = compileLayout(circle());
/** T1: 180 mm of engine and 240 mm of coaches; T2: an engine of 180 mm. */
const stock = compileStock(
  stockOf([train(1, [{ car: 'coach', count: 2 }]), train(2)], [locomotive(1), locomotive(2)]),
);
/** With T3, an engine as well, and as many coaches behind that of T1 as asked for. */
const stockOfThree = (coaches: number) =>
  compileStock(
    stockOf(
      [train(1, [{ car: 'coach', count: coaches }]), train(2), train(3)],
      [locomotive(1), locomotive(2), locomotive(3)],
    ),
  );
const coupled = (at: number): Fault => ({ kind: 'coupled', train: 0, other: 1, at });
const open = (faults: readonly Fault[]) =>
  openRig({
    layout: round,
    stock,
    places: [
      ['north', 'b'],
      ['south', 'a'],
    ],
    faults,
  });
type Rig = ReturnType<typeof open>;
const lengthOf = ({ simulated }: Rig, index: number): number =>
  simulated.truth.train(index)?.stretches.reduce((sum, { from, to }) => sum + to - from, 0) ?? 0;
const occupied = ({ simulated }: Rig): readonly string[] =>
  round.sections.flatMap(({ file: { id } }, index) =>
    simulated.truth.section(index).occupied ? [id] : [],
  );

/** Nothing stands anywhere, and nothing is left of what stood. */
function expectBare(rig: Rig): void {
  const { state, truth } = rig.simulated;
  expect(truth.trains()).toEqual([]);
  expect(state.sections.map(({ axles, locomotives }) => [axles, locomotives.length])).toEqual(
    state.sections.map(() => [0, 0]),
  );
  expect(state.holders.flat()).toEqual([]);
  expect(state.contacts).toEqual([]);
}

describe('a train hung on behind another', () => {
  it('is one with it: as long as both, with both decoders, and where the other stood is free', () => {
    const rig = open([coupled(2000)]);
    rig.until(4000);
    expect(rig.simulated.truth.trains()).toHaveLength(1);
    expect(rig.simulated.truth.train(1)).toBeNull();
    expect(rig.simulated.truth.train(0)!.carries).toBe(1);
    expect(lengthOf(rig, 0)).toBeCloseTo(600, 6);
    expect(occupied(rig).every((id) => !id.startsWith('south'))).toBe(true);
    const seen = round.sections.flatMap(
      (_, index) => rig.simulated.truth.section(index).locomotives,
    );
    expect(seen.toSorted()).toEqual(['engine-1', 'engine-2']);
    rig.run(1, 50);
    rig.until(12_000);
    expect(rig.simulated.truth.train(0)!.speed).toBeCloseTo(100, 9);
    expect(rig.incidents()).toEqual([]);
  });

  it('is not hung on while one of them moves', () => {
    const rig = open([coupled(5000)]);
    rig.run(1, 50);
    rig.until(6000);
    expect(rig.simulated.truth.train(1)).not.toBeNull();
    expect(lengthOf(rig, 0)).toBeCloseTo(420, 6);
  });

  it('is taken off when it is moved by hand, and stays where it hung when the other is', () => {
    const to = placeOf(round, ['south', 'a']);
    const away = open([coupled(2000), { kind: 'hand-moved', train: 1, to, at: 8000 }]);
    const before = open([]);
    before.until(10_000);
    away.until(10_000);
    expect(occupied(away)).toEqual(occupied(before));
    expect([lengthOf(away, 0), lengthOf(away, 1)].map(Math.round)).toEqual([420, 180]);

    const left = open([coupled(2000), { kind: 'hand-moved', train: 0, to: null, at: 8000 }]);
    left.until(10_000);
    expect(left.simulated.truth.train(0)).toBeNull();
    const { front } = left.simulated.truth.train(1)!;
    left.run(2, 50);
    left.until(14_000);
    expect(left.simulated.truth.train(1)!.front).not.toEqual(front);
  });

  it('leaves nothing behind on any section, wherever it is taken off', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3000, max: 60_000 }), fc.boolean(), (at, isFirst) => {
        const rig = open([coupled(1000)]);
        rig.until(2000);
        rig.run(1, 50);
        rig.until(at);
        const [one, two] = isFirst ? [0, 1] : [1, 0];
        rig.simulated.injectFault({ kind: 'hand-moved', train: one, to: null, at });
        rig.simulated.injectFault({ kind: 'hand-moved', train: two, to: null, at: at + 1 });
        rig.until(at + 2);
        expectBare(rig);
      }),
      { numRuns: 60 },
    );
  });

  it('leaves nothing behind on turnouts either', () => {
    const layout = compileLayout(passingLoop());
    fc.assert(
      fc.property(fc.integer({ min: 3000, max: 40_000 }), (at) => {
        const rig = openRig({
          layout,
          stock,
          places: [['west', 'b'], null],
          faults: [
            { kind: 'hand-moved', train: 1, to: placeOf(layout, ['east', 'a']), at: 300 },
            coupled(1000),
          ],
        });
        rig.until(2000);
        expect(rig.simulated.truth.train(0)!.carries).toBe(1);
        rig.run(1, 50);
        rig.until(at);
        for (const train of [1, 0])
          rig.simulated.injectFault({ kind: 'hand-moved', train, to: null, at });
        rig.until(at + 2);
        expectBare(rig);
      }),
      { numRuns: 40 },
    );
  });

  it.each([
    ['there', true],
    ['not there', false],
  ])('is not hung on over a third that stands behind (%s)', (_, isThere) => {
    const rig = openRig({
      layout: round,
      stock: stockOfThree(7),
      places: [['north', 'b'], ['south', 'a'], isThere ? ['west', 'a'] : null],
      faults: [coupled(1000)],
    });
    rig.until(2000);
    expect(rig.simulated.truth.train(0)!.carries).toBe(isThere ? null : 1);
    expect(rig.simulated.truth.train(1) === null).toBe(!isThere);
    expect(rig.incidents()).toEqual([]);
  });

  it('is let go of by what struck it, once it is lifted', () => {
    const rig = openRig({
      layout: round,
      stock: stockOfThree(2),
      places: [['north', 'b'], ['south', 'a'], null],
      faults: [
        coupled(1000),
        { kind: 'hand-moved', train: 2, to: placeOf(round, ['west', 'b']), at: 2000 },
      ],
    });
    rig.until(3000);
    rig.run(3, 50);
    rig.until(20_000);
    expect(rig.incidents()).toEqual(['contact']);
    rig.run(3, 0);
    rig.simulated.injectFault({ kind: 'hand-moved', train: 1, to: null, at: 20_000 });
    rig.until(21_000);
    expect(rig.simulated.state.contacts).toEqual([]);
    rig.run(1, 50, false);
    rig.until(23_000);
    expect(rig.simulated.truth.train(0)!.speed).toBeLessThan(0);
  });

  it('is read with the end that its front looks to', () => {
    const file = circle();
    const telling = compileLayout({
      ...file,
      detectorTypes: file.detectorTypes.map((type) => ({
        ...type,
        readsAtOnce: 4,
        reportsOrientation: true,
      })),
    });
    const rig = openRig({
      layout: telling,
      stock,
      places: [
        ['north', 'b'],
        ['south', 'a'],
      ],
      faults: [coupled(2000)],
    });
    const facing = (): unknown =>
      rig
        .events('report')
        .flatMap(({ decoders }) => decoders.filter(({ number }) => number === 2))
        .at(-1)?.facing;
    rig.until(1900);
    expect(facing()).toBe('a');
    rig.until(4000);
    expect(facing()).toBe('b');
  });

  it('goes on the same from a copy of the state', () => {
    const rig = open([coupled(2000)]);
    rig.until(3000);
    rig.run(1, 50);
    const copy = resumeSimulatedLayout(
      { layout: round, stock, seed: 1 },
      structuredClone(rig.simulated.state),
    );
    const back = { kind: 'hand-moved', train: 1, to: placeOf(round, ['south', 'a']) } as const;
    for (const each of [rig.simulated, copy]) each.injectFault({ ...back, at: 9000 });
    rig.until(20_000);
    copy.advance(20_000);
    expect(copy.state).toEqual(rig.simulated.state);
  });
});

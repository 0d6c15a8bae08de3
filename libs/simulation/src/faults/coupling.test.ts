import { compileLayout, compileStock } from '@blockbell/railway';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle } from '../test-support/layouts.js';
import { openRig, placeOf } from '../test-support/rig.js';
import { locomotive, stockOf, train } from '../test-support/stock.js';
import type { Fault } from './fault.js';

const round = compileLayout(circle());
/** T1: 180 mm of engine and 240 mm of coaches; T2: an engine of 180 mm. */
const stock = compileStock(
  stockOf([train(1, [{ car: 'coach', count: 2 }]), train(2)], [locomotive(1), locomotive(2)]),
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
        expect(occupied(rig)).toEqual([]);
        expect(rig.simulated.truth.trains()).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

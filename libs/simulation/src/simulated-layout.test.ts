import { compileLayout, compileStock } from '@blockbell/railway';
import type { Layout } from '@blockbell/railway/track';
import { mm } from '@blockbell/railway/track';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Fault } from './faults/fault.js';
import { resumeSimulatedLayout } from './simulated-layout.js';
import type { SimulationState } from './state.js';
import { passingLoop } from './test-support/layouts.js';
import { openRig } from './test-support/rig.js';
import type { Rig } from './test-support/rig.js';
import { address, locomotive, stockOf, train } from './test-support/stock.js';
import type { TruthTrain } from './truth.js';

const layout = compileLayout(passingLoop());
const stock = compileStock(
  stockOf(
    [
      train(1, [{ car: 'coach', count: 2 }]),
      train(2, [
        { car: 'wagon', count: 3 },
        { car: 'coach', count: 1 },
      ]),
    ],
    [
      locomotive(1, { spread: { speed: 8, braking: 10 }, runOn: mm(60) }),
      locomotive(2, { spread: { speed: 5, braking: 5 } }),
    ],
  ),
);

const open = (seed: number, faults: readonly Fault[] = []): Rig =>
  openRig({
    layout,
    stock,
    places: [
      ['west', 'b'],
      ['siding', 'a'],
    ],
    seed,
    faults,
  });

type Move =
  | {
      readonly kind: 'run';
      readonly locomotive: number;
      readonly step: number;
      readonly forward: boolean;
    }
  | { readonly kind: 'throw'; readonly turnout: string; readonly position: string }
  | { readonly kind: 'power'; readonly on: boolean }
  | { readonly kind: 'stop-all' };

const move: fc.Arbitrary<Move> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      kind: fc.constant('run' as const),
      locomotive: fc.constantFrom(1, 2),
      step: fc.integer({ min: 0, max: 126 }),
      forward: fc.boolean(),
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      kind: fc.constant('throw' as const),
      turnout: fc.constantFrom('points-w', 'points-e'),
      position: fc.constantFrom('straight', 'diverging'),
    }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('power' as const), on: fc.boolean() }) },
  { weight: 1, arbitrary: fc.constant({ kind: 'stop-all' as const }) },
);
const moves = fc.array(fc.tuple(fc.integer({ min: 0, max: 5000 }), move), { maxLength: 25 });

const fault: fc.Arbitrary<Fault> = fc
  .record({
    at: fc.integer({ min: 0, max: 40_000 }),
    duration: fc.oneof(fc.constant(null), fc.integer({ min: 0, max: 20_000 })),
  })
  .chain(({ at, duration }) =>
    fc.constantFrom<Fault>(
      { kind: 'dropout', at, duration, section: 4 },
      { kind: 'stuck-detector', at, duration, section: 2 },
      { kind: 'misread', at, duration, section: 1, as: address(99) },
      { kind: 'bus-silence', at, duration, bus: 'bus' },
      { kind: 'silent-decoder', at, duration, address: address(1) },
      { kind: 'stall', at, duration, train: 0 },
      { kind: 'run-on', at, duration, train: 0, permille: 1500 },
      { kind: 'runaway', at, duration, train: 1, speed: -150 },
      { kind: 'slip', at, duration, train: 0, permille: 600 },
      { kind: 'lost-cars', at, train: 0, length: 130 },
      { kind: 'hand-moved', at, train: 1, to: layout.elementByName.get('main')! * 2 },
      { kind: 'hand-moved', at, train: 1, to: null },
      { kind: 'stuck-drive', at, duration, element: 2 },
      { kind: 'power-loss', at, duration, district: 0 },
      { kind: 'short', at, duration, district: 1 },
      { kind: 'late', at, duration, section: null, messages: 'both', by: 500 },
      { kind: 'duplicated', at, duration, section: null, messages: 'both', permille: 500 },
    ),
  );

function play(
  rig: Rig,
  script: readonly (readonly [number, Move])[],
  check = (): void => {},
): void {
  for (const [wait, it] of script) {
    rig.until(rig.simulated.truth.now + wait);
    if (it.kind === 'run') rig.run(it.locomotive, it.step, it.forward);
    else if (it.kind === 'throw') rig.throwTo(it.turnout, it.position);
    else if (it.kind === 'power') rig.power(it.on);
    else rig.simulated.command(rig.simulated.truth.now, { kind: 'stop-all' });
    check();
  }
  rig.until(rig.simulated.truth.now + 30_000);
  check();
}

/**
 * Which sections lie under a train's axles, from its place alone, borders moved outwards by `margin` mm. Holds where
 * only its ends stand on blocks.
 */
function sectionsUnder(on: Layout, it: TruthTrain, margin: number): ReadonlySet<number> {
  const found = new Set<number>();
  const extents = it.leftBehind ? [] : stock.trains[it.train]!.detected;
  let behind = 0;
  it.stretches.forEach(({ element, from, to }, index) => {
    const { file } = on.elements[element]!;
    const length = to - from;
    const fallsToFront =
      index === 0
        ? it.front.offset === from
        : index === it.stretches.length - 1 && it.rear.offset === to;
    for (const extent of extents) {
      const near = Math.max(extent.from, behind) - behind;
      const far = Math.min(extent.to, behind + length) - behind;
      if (far - near < -margin) continue;
      const [low, high] = fallsToFront ? [from + near, from + far] : [to - far, to - near];
      if (file?.kind === 'turnout') found.add(on.sectionByName.get(file.section!)!);
      if (file?.kind !== 'block') continue;
      let start = 0;
      for (const part of file.detection) {
        const overlaps = low < start + part.length + margin && high > start - margin;
        if (overlaps && part.section !== null) found.add(on.sectionByName.get(part.section)!);
        start += part.length;
      }
    }
    behind += length;
  });
  return found;
}

/** What the truth says of itself that doesn't agree. */
function disagreements({ simulated: { truth } }: Rig): readonly string[] {
  const trains = truth.trains();
  const lengthOn = ({ stretches }: TruthTrain): number =>
    stretches.reduce((sum, { from, to }) => sum + to - from, 0);
  const inverted = trains.filter(({ stretches }) =>
    stretches.some(({ from, to }) => to - from < -1e-6),
  );
  const whole = (it: TruthTrain): boolean =>
    Math.abs(lengthOn(it) - stock.trains[it.train]!.length) < 1e-6;
  const lostLength = trains.filter((it) => !it.leftBehind && !whole(it));
  const parted = trains.some(({ leftBehind }) => leftBehind);
  const found = inverted.map(({ train }) => `train ${train} ends before it begins`);
  // Cars left behind have no place in the stock from which to tell their axles.
  if (parted) return found;
  found.push(...lostLength.map(({ train }) => `train ${train} changed its length`));
  const under = (margin: number): ReadonlySet<number> =>
    new Set(trains.flatMap((it) => [...sectionsUnder(layout, it, margin)]));
  // An end that stopped right on a border may count as either.
  const [surely, perhaps] = [under(-1e-6), under(1e-6)];
  for (const { index, id } of layout.sections) {
    const { occupied } = truth.section(index);
    if (surely.has(index) && !occupied) found.push(`${id} free under axles`);
    if (!perhaps.has(index) && occupied) found.push(`${id} occupied by nothing`);
  }
  return found;
}

describe('the simulated layout', () => {
  it('keeps trains whole and knows the sections under them, whatever is commanded', () => {
    fc.assert(
      fc.property(fc.integer(), moves, (seed, script) => {
        const rig = open(seed);
        play(rig, script, () => expect(disagreements(rig)).toEqual([]));
      }),
      { numRuns: 150 },
    );
  });

  it('comes through any fault at any time, and comes to rest', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        moves,
        fc.array(fault, { maxLength: 6 }),
        (seed, script, faults) => {
          const rig = open(seed, faults);
          play(rig, script, () => expect(disagreements(rig)).toEqual([]));
          rig.simulated.truth.faults.forEach((_, index) =>
            rig.simulated.mend(index, rig.simulated.truth.now),
          );
          rig.simulated.command(rig.simulated.truth.now, { kind: 'stop-all' });
          rig.until(rig.simulated.truth.now + 60_000);
          for (const it of rig.simulated.truth.trains()) expect(it.speed).toBe(0);
          // A meeting foreseen before the other train stopped may still be looked at, to no effect.
          for (let turn = 0; turn < 10 && rig.simulated.nextAt() !== null; turn += 1) {
            expect(rig.simulated.advance(rig.simulated.nextAt()!)).toEqual([]);
          }
          expect(rig.simulated.state.queue.heap).toEqual([]);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('says things in order of time, edges of a section alternating, and in the end the truth', () => {
    fc.assert(
      fc.property(fc.integer(), moves, (seed, script) => {
        const rig = open(seed);
        play(rig, script);
        rig.simulated.command(rig.simulated.truth.now, { kind: 'stop-all' });
        rig.power(true);
        rig.until(rig.simulated.truth.now + 10_000);
        const times = rig.said.map(({ at }) => at);
        expect(times).toEqual(times.toSorted((left, right) => left - right));
        expect(times.every(Number.isInteger)).toBe(true);
        const alwaysFed = script.every(([, { kind }]) => kind !== 'power');
        for (const { id, index } of layout.sections) {
          const edges = rig.edges(id);
          const repeated = edges.filter(([, it], place) => it === edges[place - 1]?.[1]);
          // Switched on once more, a section that was fed all along says nothing new.
          if (alwaysFed) expect(repeated).toEqual([]);
          expect(edges.at(-1)![1]).toBe(rig.simulated.truth.section(index).occupied);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is the same to the byte for the same seed, and not for another', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        moves,
        fc.array(fault, { maxLength: 4 }),
        (seed, script, faults) => {
          const [first, second, other] = [
            open(seed, faults),
            open(seed, faults),
            open(seed ^ 1, faults),
          ];
          for (const rig of [first, second, other]) play(rig, script);
          expect(JSON.stringify(first.said)).toBe(JSON.stringify(second.said));
          expect(JSON.stringify(first.simulated.state)).toBe(
            JSON.stringify(second.simulated.state),
          );
          expect(JSON.stringify(first.said)).not.toBe(JSON.stringify(other.said));
        },
      ),
      { numRuns: 30 },
    );
  });

  it('does the same in one go as ms by ms', () => {
    const once = open(5);
    const often = open(5);
    for (const rig of [once, often]) {
      rig.throwTo('points-e', 'diverging');
      rig.run(1, 90);
      rig.run(2, 60, false);
    }
    once.until(30_000);
    for (let at = 200; at <= 30_000; at += 1) often.until(at);
    expect(JSON.stringify(often.said)).toBe(JSON.stringify(once.said));
    expect(often.simulated.truth.trains()).toEqual(once.simulated.truth.trains());
  });

  it('never has anything to say before nextAt', () => {
    const rig = open(6);
    rig.run(1, 100);
    for (let next = rig.simulated.nextAt(); next !== null; next = rig.simulated.nextAt()) {
      const now = rig.simulated.truth.now;
      if (next - 1 > now) expect(rig.simulated.advance(next - 1)).toEqual([]);
      for (const { at } of rig.simulated.advance(next)) expect(at).toBe(next);
    }
    expect(rig.incidents().length).toBeGreaterThan(0);
  });

  it('goes on from a stored state as the original does', () => {
    const rig = open(8, [{ kind: 'dropout', at: 9000, duration: 300, section: 4 }]);
    rig.run(1, 80);
    rig.until(5000);
    const copy = resumeSimulatedLayout(
      { layout, stock, seed: 8 },
      JSON.parse(JSON.stringify(rig.simulated.state)) as SimulationState,
    );
    expect(JSON.stringify(copy.advance(40_000))).toBe(
      JSON.stringify(rig.simulated.advance(40_000)),
    );
    expect(copy.truth.trains()).toEqual(rig.simulated.truth.trains());
  });

  it('a fault elsewhere shifts no other section’s times', () => {
    const plain = open(9);
    const faulty = open(9, [
      { kind: 'dropout', at: 1000, duration: 9000, section: layout.sectionByName.get('siding-1')! },
    ]);
    for (const rig of [plain, faulty]) {
      rig.run(1, 80);
      rig.until(40_000);
    }
    expect(faulty.edges('siding-1')).not.toEqual(plain.edges('siding-1'));
    for (const id of ['west-2', 'points-w', 'main-1', 'main-2', 'main-3', 'east-1']) {
      expect(plain.edges(id).length).toBeGreaterThan(1);
      expect(faulty.edges(id)).toEqual(plain.edges(id));
    }
  });

  it('refuses to run time back and to command what does not exist', () => {
    const rig = open(1);
    expect(() => rig.simulated.advance(100)).toThrow('time does not run back');
    expect(() => rig.throwTo('main', 'straight')).toThrow('has no drive');
    expect(() => rig.throwTo('points-w', 'left')).toThrow('has no position left');
    expect(() =>
      rig.simulated.injectFault({ kind: 'stall', at: 0, duration: null, train: 7 }),
    ).toThrow('does not exist');
  });

  it('starts with everything off: it tells of drives with feedback and buses, of no section', () => {
    const rig = openRig({ layout, stock, places: [['west', 'b'], null], powered: false });
    rig.until(60_000);
    expect(rig.said.map(({ event }) => event)).toEqual(
      expect.arrayContaining([
        { kind: 'bus', bus: 'bus', alive: true },
        { kind: 'drive', element: layout.elementByName.get('points-w'), position: 'straight' },
      ]),
    );
    expect(rig.said).toHaveLength(2);
    expect(rig.simulated.truth.train(1)).toBeNull();
    expect(rig.simulated.truth.train(0)).toMatchObject({
      towards: 'b',
      front: { offset: 1900 },
      rear: { offset: 1480 },
    });
  });
});

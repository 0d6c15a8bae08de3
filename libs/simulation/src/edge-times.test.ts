import { compileLayout, compileStock } from '@blockbell/railway';
import { mmPerS2, ms } from '@blockbell/railway/track';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle } from './test-support/layouts.js';
import { openRig } from './test-support/rig.js';
import { locomotive, stockOf, train } from './test-support/stock.js';

/**
 * Edges in closed form against an integration that knows nothing of it: 0.1 ms steps on a circle unrolled to a
 * line, every overlap looked at in every step. Detectors here tell without delay.
 */

const STEPS_PER_MS = 10;
const SECTIONS = [
  ['north-1', 0, 500],
  ['north-2', 500, 1200],
  ['east-1', 1200, 2100],
  ['south-1', 2100, 2400],
  ['south-2', 2400, 2700],
  ['south-3', 2700, 3000],
  ['west-1', 3000, 4100],
] as const;
const AROUND = 4100;
const FRONT_AT_START = 1100;
const POWERED_AT = 200;

/** Engine 180, two wagons no detector sees, a coach of 120. */
const AXLES = [
  [0, 180],
  [360, 480],
] as const;

interface Command {
  readonly at: number;
  readonly step: number;
  readonly forward: boolean;
}
type Edge = readonly [section: string, at: number, occupied: boolean];

const forwardSpeed = (step: number): number => step * 2;
const reverseSpeed = (step: number): number =>
  step <= 26 ? (step * 42) / 26 : 42 + (step - 26) * 1.6;

function integrate(commands: readonly Command[], rates: readonly [number, number], until: number) {
  const [acceleration, braking] = rates;
  const dt = 1 / (1000 * STEPS_PER_MS);
  let front = FRONT_AT_START;
  let speed = 0;
  let goal = 0;
  let next = 0;
  const edges: Edge[] = [];
  const arrivals: (readonly [string, number])[] = [];
  const over = (from: number, to: number, [head, tail]: readonly [number, number]): boolean => {
    const rear = front - tail;
    const turn = Math.floor((rear - to) / AROUND) + 1;
    return from + turn * AROUND < front - head;
  };
  /** A bit for each section: under axles, or under the engine. */
  const look = (extents: typeof AXLES | readonly [(typeof AXLES)[0]]): number => {
    let seen = 0;
    for (let index = 0; index < SECTIONS.length; index += 1) {
      const [, from, to] = SECTIONS[index]!;
      for (const extent of extents) if (over(from, to, extent)) seen |= 1 << index;
    }
    return seen;
  };
  let axles = look(AXLES);
  let engine = look([AXLES[0]]);
  for (let tick = POWERED_AT * STEPS_PER_MS; tick < until * STEPS_PER_MS; tick += 1) {
    while (next < commands.length && commands[next]!.at * STEPS_PER_MS <= tick) {
      const { step, forward } = commands[next]!;
      goal = forward ? forwardSpeed(step) : -reverseSpeed(step);
      next += 1;
    }
    // A train that turns round in the middle of a step starts back in the middle of it: what such steps lost would
    // be milliseconds at a crawl.
    for (let left = dt; left > 0;) {
      const aim = speed * goal < 0 ? 0 : goal;
      const rate = Math.abs(aim) > Math.abs(speed) ? acceleration : braking;
      const lasts = Math.min(left, speed === aim ? left : Math.abs(aim - speed) / rate);
      const after = lasts < left ? aim : speed + Math.sign(aim - speed) * rate * lasts;
      front += ((speed + after) / 2) * lasts;
      speed = after;
      left -= lasts;
    }
    const axlesNow = look(AXLES);
    const engineNow = look([AXLES[0]]);
    if (axlesNow !== axles || engineNow !== engine) {
      const at = (tick + 1) / STEPS_PER_MS;
      SECTIONS.forEach(([name], index) => {
        const bit = 1 << index;
        if (((axlesNow ^ axles) & bit) !== 0) edges.push([name, at, (axlesNow & bit) !== 0]);
        if ((engineNow & ~engine & bit) !== 0) arrivals.push([name, at]);
      });
    }
    axles = axlesNow;
    engine = engineNow;
  }
  return { edges, arrivals };
}

const script = fc.array(
  fc.record({
    wait: fc.integer({ min: 500, max: 5000 }),
    step: fc.integer({ min: 0, max: 126 }),
    forward: fc.boolean(),
  }),
  { minLength: 3, maxLength: 8, size: 'max' },
);

const rate = fc.integer({ min: 20, max: 150 });

type Moves = readonly { readonly wait: number; readonly step: number; readonly forward: boolean }[];

/** Runs the moves in the simulation and in the integration, compares every edge, and says how many there were. */
function compareEdges(moves: Moves, acceleration: number, braking: number): number {
  // A good way round first, so that no run is empty.
  const commands: Command[] = [{ at: POWERED_AT, step: 110, forward: true }];
  let compared = 0;
  let at = POWERED_AT + 15_000;
  for (const { wait, step, forward } of moves) {
    commands.push({ at, step, forward });
    at += wait;
  }
  commands.push({ at, step: 0, forward: true });
  const until = at + 14_000;
  const file = circle();
  const prompt = { occupied: ms(0), free: ms(0), report: ms(0) };
  const detectorTypes = file.detectorTypes.map((type) => ({ ...type, worstDelay: prompt }));
  const rates = { acceleration: mmPerS2(acceleration), braking: mmPerS2(braking) };
  const vehicles = [{ car: 'wagon', count: 2 } as const, { car: 'coach', count: 1 } as const];
  const rig = openRig({
    layout: compileLayout({ ...file, detectorTypes }),
    stock: compileStock(stockOf([train(1, vehicles)], [locomotive(1, rates)])),
    places: [['north', 'b']],
  });
  for (const command of commands) {
    rig.until(command.at);
    rig.run(1, command.step, command.forward);
  }
  rig.until(until);
  const expected = integrate(commands, [acceleration, braking], until);
  for (const [name] of SECTIONS) {
    const real = rig.edges(name).filter((edge) => edge[0] > POWERED_AT);
    const fine = expected.edges.filter(([section]) => section === name);
    expect(real.map(([, occupied]) => occupied)).toEqual(fine.map((edge) => edge[2]));
    real.forEach(([time], index) => {
      expect(Math.abs(time - Math.ceil(fine[index]![1]))).toBeLessThanOrEqual(1);
    });
    compared += real.length;
    const known = rig.reports(name).filter(([time, who]) => time > POWERED_AT && who.length > 0);
    const arrived = expected.arrivals.filter(([section]) => section === name);
    expect(known).toHaveLength(arrived.length);
    known.forEach(([time], index) => {
      expect(Math.abs(time - 21 - Math.ceil(arrived[index]![1]))).toBeLessThanOrEqual(1);
    });
  }
  expect(rig.simulated.truth.train(0)!.speed).toBe(0);
  return compared;
}

describe('edge times', () => {
  it('agree with fine integration within 1 ms, and so do the decoders’ reports', () => {
    let compared = 0;
    fc.assert(
      fc.property(script, rate, rate, (moves, acceleration, braking) => {
        compared += compareEdges(moves, acceleration, braking);
      }),
      { numRuns: 15 },
    );
    expect(compared).toBeGreaterThan(100);
  });

  it('agree where a train turned round in the middle of a step creeps over an edge (seed -634577973)', () => {
    const stopAgain = { wait: 500, step: 0, forward: false };
    const moves = [
      { wait: 4357, step: 45, forward: false },
      stopAgain,
      stopAgain,
      { wait: 500, step: 1, forward: false },
    ];
    expect(compareEdges(moves, 25, 145)).toBeGreaterThan(10);
  });
});

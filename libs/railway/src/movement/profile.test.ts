import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { REST_TOLERANCE } from '../interlocking/rest-proof.js';
import { after, instant, mmPerS, mmPerS2, ms, um, type Instant } from '../units.js';
import { nextCommand, shortfall, type WayAhead } from './profile.js';
import {
  anchor,
  command,
  rangeAt,
  reachAt,
  seenAt,
  standing,
  standsFrom,
  toldSpeed,
  type Reckoning,
  type RunningModel,
} from './reckoning.js';

const model = (speedSpread: number, brakingSpread: number, delay: number): RunningModel => {
  const wider = Math.max(speedSpread, brakingSpread);
  return {
    nominal: { acceleration: mmPerS2(60), braking: mmPerS2(100) },
    fast: {
      acceleration: mmPerS2(Math.ceil((60 * (1000 + wider)) / 1000)),
      braking: mmPerS2(Math.floor((100 * (1000 - brakingSpread)) / 1000)),
    },
    slow: {
      acceleration: mmPerS2(Math.floor((60 * (1000 - wider)) / 1000)),
      braking: mmPerS2(Math.ceil((100 * (1000 + brakingSpread)) / 1000)),
    },
    speedSpread,
    delay: ms(delay),
    creep: mmPerS(40),
  };
};

/** A train as it really runs: its own deviations, its own delay for every command. Moved ms by ms. */
class RealTrain {
  position: number;
  private speed = 0;
  private target = 0;
  private commands: { at: number; target: number }[] = [];

  constructor(
    place: number,
    private readonly deviation: { speed: number; acceleration: number; braking: number },
    private readonly chance: () => number,
    private readonly delay: number,
  ) {
    this.position = place;
  }

  tell(target: number, now: number): void {
    const before = this.commands[this.commands.length - 1]?.at ?? 0;
    const at = Math.max(before, now + Math.floor(this.chance() * (this.delay + 1)));
    this.commands.push({ at, target: target * 1000 * (1 + this.deviation.speed) });
  }

  tick(now: number): void {
    while (this.commands[0] !== undefined && this.commands[0].at <= now) {
      this.target = this.commands.shift()?.target ?? 0;
    }
    const before = this.speed;
    this.speed =
      this.speed < this.target
        ? Math.min(this.target, this.speed + 60 * (1 + this.deviation.acceleration))
        : Math.max(this.target, this.speed - 100 * (1 + this.deviation.braking));
    this.position += (before + this.speed) / 2000;
  }

  get stands(): boolean {
    return this.speed === 0 && this.target === 0 && this.commands.length === 0;
  }
}

interface Story {
  readonly seed: number;
  readonly spread: { readonly speed: number; readonly braking: number };
  readonly delay: number;
  readonly detectorDelay: number;
  readonly deviation: { speed: number; acceleration: number; braking: number };
  readonly start: number;
  /** µm between edges seen. */
  readonly edges: number;
  readonly margin: number;
  /** At which time the authority changes, and to which limit. */
  readonly changes: readonly { readonly at: number; readonly limit: number }[];
  readonly limits: readonly { readonly from: number; readonly speed: number }[];
}

/** A number in −1…1, the ends likely. */
const part = fc.oneof(fc.constantFrom(-1, 1), fc.double({ min: -1, max: 1, noNaN: true }));

const stories: fc.Arbitrary<Story> = fc
  .record({
    seed: fc.integer({ min: 1, max: 1_000_000 }),
    spread: fc.record({
      speed: fc.integer({ min: 0, max: 100 }),
      braking: fc.integer({ min: 0, max: 300 }),
    }),
    delay: fc.integer({ min: 0, max: 500 }),
    detectorDelay: fc.integer({ min: 0, max: 300 }),
    parts: fc.tuple(part, part, part),
    start: fc.integer({ min: 0, max: 20_000 }),
    edges: fc.integer({ min: 150_000, max: 900_000 }),
    margin: fc.integer({ min: 0, max: 150_000 }),
    changes: fc.array(
      fc.record({
        at: fc.integer({ min: 0, max: 25_000 }),
        limit: fc.integer({ min: 300_000, max: 4_000_000 }),
      }),
      { maxLength: 4 },
    ),
    limits: fc.array(
      fc.record({
        from: fc.integer({ min: 1, max: 3_000_000 }),
        speed: fc.integer({ min: 20, max: 250 }),
      }),
      { maxLength: 3 },
    ),
  })
  .map(({ parts: [p, q, r], spread, ...rest }) => ({
    ...rest,
    spread,
    deviation: {
      speed: (p * spread.speed) / 1000,
      acceleration: (q * Math.max(spread.speed, spread.braking)) / 1000,
      braking: (r * spread.braking) / 1000,
    },
  }));

/** Small generator for the delays, so that a story is replayed by its seed. */
function chanceOf(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 48271) >>> 0) % 2147483647;
    return state / 2147483647;
  };
}

interface Outcome {
  /** Largest excess of the real head over the limit that was locked at the time, µm. */
  readonly worst: number;
  /** Largest excess of the real head over the reckoned range, µm. */
  readonly outside: number;
  readonly asked: number;
  readonly real: RealTrain;
  readonly reckoning: Reckoning;
  readonly way: WayAhead;
  readonly end: Instant;
}

function run(story: Story): Outcome {
  const by = model(story.spread.speed, story.spread.braking, story.delay);
  const chance = chanceOf(story.seed);
  const real = new RealTrain(-story.start * chance(), story.deviation, chance, story.delay);
  let reckoning = standing(
    { low: um(-story.start), high: um(0) },
    um(-story.start / 2),
    instant(0),
  );
  const limits = [
    { from: um(-story.start), speed: mmPerS(180) },
    ...[...story.limits]
      .sort((a, b) => a.from - b.from)
      .map((l) => ({ from: um(l.from), speed: mmPerS(l.speed) })),
  ];
  const wayTo = (limit: number): WayAhead => ({
    limits,
    topSpeed: mmPerS(220),
    mark: um(limit - story.margin),
    limit: um(limit),
  });
  let way = wayTo(600_000);
  const changes = [...story.changes].sort((a, b) => a.at - b.at);
  const seen: { at: number; place: number }[] = [];
  let nextEdge = story.edges;
  let nextAt: number | null = 0;
  let worst = -Infinity;
  let outside = -Infinity;
  let asked = 0;
  let now = instant(0);
  for (; now < 400_000; now = after(now, 1)) {
    let due = nextAt !== null && now >= nextAt;
    if (changes[0] !== undefined && changes[0].at <= now) {
      const limit = changes.shift()?.limit ?? 0;
      if (limit >= reachAt(by, reckoning, now)) way = wayTo(limit);
      due = true;
    }
    while (seen[0] !== undefined && seen[0].at <= now) {
      const place = seen.shift()?.place ?? 0;
      reckoning = anchor(
        by,
        reckoning,
        seenAt(by, reckoning, um(place), ms(story.detectorDelay), now),
        now,
      );
      due = true;
    }
    if (due) {
      asked += 1;
      const advice = nextCommand(by, reckoning, way, now);
      expect(advice.nextAt === null || advice.nextAt > now).toBe(true);
      if (advice.target !== toldSpeed(reckoning)) {
        reckoning = command(by, reckoning, advice.target, now);
        real.tell(advice.target, now);
      }
      nextAt = advice.nextAt;
    }
    if (now % 8 === 0) {
      const range = rangeAt(by, reckoning, now);
      outside = Math.max(outside, real.position - range.high, range.low - real.position);
    }
    worst = Math.max(worst, real.position - way.limit);
    if (nextAt === null && real.stands && changes.length === 0 && seen.length === 0) {
      const still = standsFrom(by, reckoning);
      if (still !== null && still <= now) break;
    }
    real.tick(now);
    if (real.position >= nextEdge) {
      seen.push({ at: now + 1 + Math.floor(chance() * story.detectorDelay), place: nextEdge });
      nextEdge += story.edges;
    }
  }
  return { worst, outside, asked, real, reckoning, way, end: now };
}

/** What rounding to whole µm, once per correction, may add up to. */
const ROUNDING = 60;

describe('profile', () => {
  it('never lets the head pass the limit and brings it near', () => {
    fc.assert(
      fc.property(stories, (story) => {
        const by = model(story.spread.speed, story.spread.braking, story.delay);
        const { worst, outside, real, reckoning, way, end } = run(story);
        expect(worst).toBeLessThanOrEqual(ROUNDING);
        expect(outside).toBeLessThanOrEqual(ROUNDING);
        const range = rangeAt(by, reckoning, end);
        const nearLimit = way.limit - range.high <= shortfall(by);
        const nearMark = way.mark - range.nominal <= shortfall(by);
        expect(nearLimit || nearMark).toBe(true);
        expect(real.position).toBeGreaterThanOrEqual(
          Math.min(way.limit, way.mark) - shortfall(by) - (range.high - range.low) - ROUNDING,
        );
      }),
      { numRuns: 80 },
    );
  });

  const exact: Story = {
    seed: 7,
    spread: { speed: 0, braking: 0 },
    delay: 0,
    detectorDelay: 0,
    deviation: { speed: 0, acceleration: 0, braking: 0 },
    start: 0,
    edges: 10_000_000,
    margin: 50_000,
    changes: [{ at: 100, limit: 3_000_000 }],
    limits: [],
  };

  it('stops an exact train at its mark, with few commands', () => {
    const { real, asked, end } = run(exact);
    expect(Math.abs(real.position - 2_950_000)).toBeLessThan(200);
    expect(asked).toBeLessThanOrEqual(6);
    // 180 mm/s from 60 mm/s² and to 100 mm/s², 2950 mm: 18.8 s.
    expect(end).toBeGreaterThan(18_700);
    expect(end).toBeLessThan(19_000);
  });

  it('rests near its mark where edges are no further apart than 900 mm', () => {
    const spread = { speed: 50, braking: 150 };
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1_000_000 }),
        fc.tuple(part, part, part),
        fc.integer({ min: 0, max: 900_000 }),
        (seed, [p, q, r], beyond) => {
          const { real, way } = run({
            ...exact,
            seed,
            spread,
            delay: 150,
            detectorDelay: 100,
            deviation: { speed: p * 0.05, acceleration: q * 0.15, braking: r * 0.15 },
            edges: 900_000,
            margin: 60_000,
            changes: [{ at: 100, limit: 1_860_000 + beyond }],
          });
          expect(way.mark - real.position).toBeLessThanOrEqual(REST_TOLERANCE * 1000);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('keeps a lower limit ahead and runs faster again after it', () => {
    const slow = {
      ...exact,
      limits: [
        { from: 1_000_000, speed: 90 },
        { from: 1_500_000, speed: 180 },
      ],
    };
    const through = run(slow).end;
    // 500 mm at 90 instead of 180 mm/s costs 2.8 s, braking and accelerating around it 0.2 and 0.4 s.
    expect(through - run(exact).end).toBeGreaterThan(2_700);
    expect(through - run(exact).end).toBeLessThan(4_500);
  });

  it('gives speed 0 where the limit is too near to move, or was passed', () => {
    const by = model(30, 150, 300);
    const way = { limits: [], topSpeed: mmPerS(200), mark: um(2_000), limit: um(5_000) };
    for (const place of [0, 6_000]) {
      const still = standing({ low: um(place), high: um(place) }, um(place), instant(0));
      expect(nextCommand(by, still, way, instant(0))).toEqual({ target: 0, nextAt: null });
    }
  });
});

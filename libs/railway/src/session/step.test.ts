import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stepOf } from '../interlocking/held-path.js';
import {
  dividedLoop,
  crossing,
  runningCrossing,
  linedUpCrossing,
} from '../testing/session-settings.js';
import { SessionDriver } from '../testing/session-driver.js';
import { twoTrains } from '../testing/stock-parts.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import type { DeviceEvent } from './device.js';
import type { Command, Input } from './input.js';
import type { EngineState } from './state.js';

/** Numbers of things: mostly ones that exist, now and then ones that don't. */
const index = fc.oneof(
  { weight: 12, arbitrary: fc.nat(19) },
  { weight: 1, arbitrary: fc.constantFrom(-1, -7, 55, 4_000_000_000, 1.5) },
);
const trainIndex = fc.oneof({ weight: 9, arbitrary: fc.nat(1) }, { weight: 1, arbitrary: index });
const decoder = fc.record({
  kind: fc.constantFrom('short', 'long'),
  number: fc.constantFrom(3, 12, 77),
} as const);

const event: fc.Arbitrary<DeviceEvent> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      kind: fc.constant('section' as const),
      section: index,
      occupied: fc.boolean(),
    }),
  },
  fc.record({
    kind: fc.constant('report' as const),
    section: index,
    decoders: fc.array(decoder, { maxLength: 3 }),
  }),
  fc.record({
    kind: fc.constant('drive' as const),
    element: index,
    position: fc.constantFrom('straight', 'diverging', 'sideways', null),
  }),
  fc.record({
    kind: fc.constant('power' as const),
    district: fc.constantFrom(0, 0, 0, 3),
    state: fc.constantFrom('on', 'on', 'off', 'short'),
  } as const),
  fc.record({
    kind: fc.constant('bus' as const),
    bus: fc.constantFrom('bus1', 'bus1', 'bus9'),
    alive: fc.boolean(),
  }),
);

const command: fc.Arbitrary<Command> = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.record({
      kind: fc.constantFrom('power-up', 'start', 'resume', 'resume', 'pause', 'stop-all'),
    } as const),
  },
  fc.record({ kind: fc.constantFrom('cut-power', 'end-session') } as const),
  {
    weight: 3,
    arbitrary: fc.record({
      kind: fc.constant('confirm-place' as const),
      train: trainIndex,
      heading: fc.oneof(index, fc.constantFrom(2, 12)),
    }),
  },
  fc.record({ kind: fc.constant('declare-identity' as const), train: trainIndex, block: index }),
  fc.record({ kind: fc.constant('confirm-absent' as const), train: trainIndex }),
  fc.record({ kind: fc.constant('confirm-clear' as const), block: index }),
  fc.record({ kind: fc.constant('hold-departures' as const), hold: fc.boolean() }),
  fc.record({ kind: fc.constant('hold-train' as const), train: trainIndex, hold: fc.boolean() }),
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('release-train' as const), train: trainIndex }),
  },
  fc.record({
    kind: fc.constant('set-clock-ratio' as const),
    ratio: fc.constantFrom(1, 6, 2.5, 60, 0, Number.NaN),
  }),
  fc.record({ kind: fc.constant('acknowledge-alarm' as const), alarm: index }),
  fc.record({ kind: fc.constant('set-route' as const), train: trainIndex, block: index }),
  fc.record({
    kind: fc.constantFrom('give-back-route', 'turn-round'),
    train: trainIndex,
  } as const),
  fc.record({ kind: fc.constant('take-in-hand' as const), train: trainIndex, take: fc.boolean() }),
  fc.record({
    kind: fc.constant('drive' as const),
    train: trainIndex,
    speed: fc.constantFrom(0, 60, 120, 9999, -1),
  }),
);

type Happening =
  | { readonly kind: 'event'; readonly event: DeviceEvent }
  | { readonly kind: 'command'; readonly command: Command }
  /** The railway runs on by itself for a while, with trains that do as told. */
  | { readonly kind: 'time'; readonly span: number };

const happening: fc.Arbitrary<Happening> = fc.oneof(
  { weight: 4, arbitrary: event.map((it): Happening => ({ kind: 'event', event: it })) },
  { weight: 3, arbitrary: command.map((it): Happening => ({ kind: 'command', command: it })) },
  {
    weight: 4,
    arbitrary: fc
      .constantFrom(0, 1, 300, 2500, 9000, 40_000)
      .map((span): Happening => ({ kind: 'time', span })),
  },
);

/** How sessions begin: before power-up, lined up, or running with trains under way. */
const BEGINNINGS: readonly (() => SessionDriver)[] = [
  () => new SessionDriver(dividedLoop(), twoTrains(), crossing()),
  () => linedUpCrossing(),
  () => {
    const driver = runningCrossing();
    new MirrorTraffic(driver).runTo(56_000);
    return driver;
  },
];

function happen(driver: SessionDriver, traffic: MirrorTraffic, it: Happening): void {
  if (it.kind === 'event') driver.device(it.event);
  else if (it.kind === 'command') driver.command(it.command);
  else traffic.runTo(driver.now + it.span);
}

const RUNNING = ['running', 'paused', 'ending'];

/** Watches every step of a driver for what must always hold. */
function expectOrderIn(driver: SessionDriver): void {
  const feed = driver.feed.bind(driver);
  driver.feed = (input: Input) => {
    const before = driver.state.session.phase.kind;
    const effects = feed(input);
    const { state } = driver;
    const moves = effects.some(
      (effect) =>
        effect.kind === 'device' && effect.command.kind === 'set-speed' && effect.command.step > 0,
    );
    if (moves)
      expect(
        [before, state.session.phase.kind].some((kind) => RUNNING.includes(kind)),
        input.kind,
      ).toBe(true);
    expectHeldRight(driver, state);
    expectDeadlinesRight(state);
    return effects;
  };
}

/** Every item of a path and every section on it is held for the path's train; so no two trains share any. */
function expectHeldRight({ world: { layout } }: SessionDriver, state: EngineState): void {
  const onPath = new Map<number, number>();
  state.trains.forEach(({ path, authorised, activity }, index) => {
    if (activity.kind === 'absent') expect(path).toEqual([]);
    else expect(authorised).toBeLessThan(path.length);
    for (const item of path) {
      expect(onPath.has(item.element)).toBe(false);
      onPath.set(item.element, index);
      expect(state.elements[item.element]!.holder).toBe(index);
      for (const { section } of stepOf(layout, item).pieces) {
        if (section >= 0) expect(state.sections[section]!.claim).toBe(index);
      }
    }
  });
  state.elements.forEach(({ holder }, element) => {
    if (holder >= 0 && layout.elements[element]!.kind !== 'polarity')
      expect(onPath.get(element)).toBe(holder);
  });
}

function expectDeadlinesRight({ deadlines, now }: EngineState): void {
  const keys = deadlines.map(({ kind, subject }) => `${kind} ${subject}`);
  expect(new Set(keys).size).toBe(keys.length);
  const times = deadlines.map(({ at }) => at);
  expect(times).toEqual([...times].sort((a, b) => a - b));
  for (const at of times) expect(at).toBeGreaterThanOrEqual(now);
}

const story = fc.tuple(fc.nat(BEGINNINGS.length - 1), fc.array(happening, { maxLength: 40 }));

describe('a step', () => {
  it('keeps order whatever devices and people say', () => {
    fc.assert(
      fc.property(story, ([beginning, happenings]) => {
        const driver = BEGINNINGS[beginning]!();
        expectOrderIn(driver);
        const traffic = new MirrorTraffic(driver);
        for (const each of happenings) happen(driver, traffic, each);
      }),
      { numRuns: 60, seed: 1 },
    );
  });

  it('goes on in the same way after its state was written out and read again', () => {
    fc.assert(
      fc.property(story, ([beginning, happenings]) => {
        const kept = BEGINNINGS[beginning]!();
        const reread = BEGINNINGS[beginning]!();
        reread.roundTrip = true;
        for (const driver of [kept, reread]) {
          const traffic = new MirrorTraffic(driver);
          for (const each of happenings) happen(driver, traffic, each);
        }
        expect(reread.effects).toEqual(kept.effects);
        expect(reread.state).toEqual(kept.state);
      }),
      { numRuns: 20, seed: 2 },
    );
  });

  it('takes a time that goes back as now', () => {
    const driver = runningCrossing();
    driver.wait(5000);
    const { now } = driver.state;
    driver.feed({ at: now - 4000, kind: 'deadline' });
    expect(driver.state.now).toBe(now);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sentence } from '../../session/explain.js';
import type { Command } from '../../session/input.js';
import { MirrorTraffic } from '../../testing/mirror-traffic.js';
import { block, bufferStop, detection, layoutOf, station } from '../../testing/layout-parts.js';
import { SessionDriver } from '../../testing/session-driver.js';
import { greedyShuttles } from '../../testing/shuttle-line.js';
import { locomotive, stockOf, train } from '../../testing/stock-parts.js';
import { call, service, timetableOf } from '../../testing/timetable-parts.js';

const logs = (driver: SessionDriver): string =>
  driver.effects.map((effect) => (effect.kind === 'log' ? effect.text : '')).join('\n');

/** Shuttles that all want to go, kept until {@link letGo}; the first comes first by everything. */
function waiting(...from: readonly string[]): SessionDriver {
  const driver = greedyShuttles(
    from.map((place, index) => ({ from: place, runs: 2, priority: 2 + index })),
  );
  driver.command({ kind: 'hold-departures', hold: true });
  driver.wait(60_000);
  return driver;
}

const letGo = (driver: SessionDriver): void => {
  driver.command({ kind: 'hold-departures', hold: false });
  driver.wait(10);
};

describe('which train goes first', () => {
  const first: Command = { kind: 'go-first', train: 1, before: 0, first: true };

  it('is as the dispatcher wishes, and the other says so', () => {
    const driver = waiting('W1', 'W2');
    expect(driver.command(first)).toBeNull();
    letGo(driver);
    expect(driver.path('T1')).toContain('L');
    expect(driver.path('T0')).toEqual(['W1']);
    expect(driver.train('T0').wait).toEqual({ kind: 'order-given', to: 1 });
    expect(sentence(driver.world, { kind: 'order-given', to: 1 })).toBe(
      'T1 goes first, as the dispatcher wishes',
    );
  });

  it('keeps the other off the single line between them until it has passed', () => {
    const driver = waiting('W1', 'E1');
    expect(driver.command(first)).toBeNull();
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    letGo(driver);
    driver.wait(60_000);
    expect(driver.path('T0')).toEqual(['W1']);
    driver.command({ kind: 'hold-train', train: 1, hold: false });
    new MirrorTraffic(driver).runTo(driver.now + 300_000);
    expect(driver.train('T0').calls.some(({ departed }) => departed !== null)).toBe(true);
    expect(driver.state.dispatching.wishes.firsts).toEqual([]);
  });

  it('may be one that was stopped for a fault: the other waits until a person has seen to it', () => {
    const driver = waiting('W1', 'W2');
    driver.train('T1').activity = { kind: 'halted', why: 'it was not seen' };
    expect(driver.command(first)).toBeNull();
    letGo(driver);
    driver.wait(200_000);
    expect(driver.path('T0')).toEqual(['W1']);
    expect(driver.train('T0').wait).toEqual({ kind: 'order-given', to: 1 });
    expect(driver.command({ kind: 'release-train', train: 1 })).toBeNull();
    driver.wait(10);
    expect(driver.path('T1')).toContain('L');
    expect(driver.path('T0')).toEqual(['W1']);
  });

  it('stays wished when that one is stopped on its way, and ends when it is taken off the layout', () => {
    const driver = waiting('W1', 'E1');
    driver.command(first);
    driver.train('T1').activity = { kind: 'halted', why: 'it was not seen' };
    letGo(driver);
    driver.wait(10);
    expect(driver.state.dispatching.wishes.firsts).toMatchObject([{ first: 1, second: 0 }]);
    expect(driver.command({ kind: 'pause' })).toBeNull();
    expect(driver.command({ kind: 'confirm-absent', train: 1 })).toBeNull();
    expect(driver.command({ kind: 'resume' })).toBeNull();
    driver.wait(10);
    expect(driver.state.dispatching.wishes.firsts).toEqual([]);
    expect(logs(driver)).toContain('That T1 goes before T0 is dropped: T1 is not on the layout.');
  });

  it('closes no circle of trains that wait for one another; the opposite of a wish takes its place', () => {
    const driver = waiting('W1', 'W2', 'E1');
    const before = (train: number, other: number): string | null =>
      driver.command({ kind: 'go-first', train, before: other, first: true });
    expect([before(0, 1), before(1, 2)]).toEqual([null, null]);
    expect(before(2, 0)).toBe('circle');
    expect(before(2, 1)).toBeNull();
    expect(driver.state.dispatching.wishes.firsts.map((it) => [it.first, it.second])).toEqual([
      [0, 1],
      [2, 1],
    ]);
  });

  it('is dropped, and it is said, when all would stand and wait for it', () => {
    const driver = waiting('W1', 'W2');
    driver.command({ kind: 'close-track', element: driver.elementIndex('TW2'), reason: 'work' });
    driver.command(first);
    letGo(driver);
    expect(driver.path('T0')).toContain('L');
    expect(logs(driver)).toContain(
      'That T1 goes before T0 is dropped: with it all trains would stand and wait.',
    );
  });

  it('is taken back, and turned round by the contrary wish', () => {
    const driver = waiting('W1', 'W2');
    driver.command(first);
    expect(driver.command(first)).toBe('wished');
    expect(driver.command({ ...first, first: false })).toBeNull();
    expect(driver.command({ ...first, first: false })).toBe('no-wish');
    driver.command(first);
    expect(driver.command({ ...first, train: 0, before: 1 })).toBeNull();
    expect(driver.state.dispatching.wishes.firsts).toMatchObject([{ first: 0, second: 1 }]);
  });

  it('is refused of a train and itself, of one that is not there, and where nothing is shared', () => {
    const driver = waiting('W1', 'W2');
    expect(driver.command({ ...first, before: 1 })).toBe('same-train');
    expect(driver.command({ ...first, before: 7 })).toBe('no-such-train');
    letGo(driver);
    new MirrorTraffic(driver).runTo(1_800_000);
    expect(driver.command(first)).toBe('nothing-shared');
  });
});

describe('the track of a call', () => {
  const choice: Command = { kind: 'choose-track', train: 0, service: 0, call: 1, track: '3' };

  it('is the one that was chosen, though another is free and preferred', () => {
    const driver = waiting('W1');
    expect(driver.command(choice)).toBeNull();
    letGo(driver);
    const seen = new Set<string>();
    new MirrorTraffic(driver).runTo(1_800_000, () => {
      for (const id of driver.path('T0')) seen.add(id);
    });
    expect([...seen].filter((id) => id.startsWith('E'))).toEqual(['E3']);
    expect(logs(driver)).toContain('Ada: wants T0 in 3 at Station East');
    expect(driver.state.dispatching.wishes.tracks).toEqual([]);
  });

  it('is waited for while another stands there', () => {
    const driver = waiting('W1', 'E1');
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    driver.command({ ...choice, track: '1' });
    letGo(driver);
    new MirrorTraffic(driver).runTo(driver.now + 100_000);
    expect(driver.path('T0').at(-1)).toMatch(/^[MSRL]$/);
    expect(driver.train('T0').arrivedAt).toBeNull();
  });

  it('is dropped, and it is said, when a train has waited too long', () => {
    const driver = waiting('W1', 'E1');
    driver.command({ kind: 'hold-train', train: 1, hold: true });
    driver.command({ ...choice, track: '1' });
    letGo(driver);
    new MirrorTraffic(driver).runTo(driver.now + 400_000);
    expect(logs(driver)).toContain('That T0 goes into 1 at Station East is dropped');
    expect(
      driver.train('T0').calls.some(({ call, arrived }) => call === 1 && arrived !== null),
    ).toBe(true);
  });

  it('is refused where it can’t be, and can be left open again', () => {
    const driver = waiting('W1');
    expect(driver.command({ ...choice, track: '9' })).toBe('no-such-track');
    expect(driver.command({ ...choice, call: 0 })).toBe('no-such-call');
    expect(driver.command({ ...choice, track: null })).toBe('no-wish');
    driver.command(choice);
    expect(driver.command({ ...choice, track: null })).toBeNull();
    expect(driver.state.dispatching.wishes.tracks).toEqual([]);
    letGo(driver);
    new MirrorTraffic(driver).runTo(1_800_000);
    expect(driver.command(choice)).toBe('too-late');
  });
});

describe('a service that is cancelled', () => {
  const both: Command = { kind: 'cancel-services', train: 0, service: 0, through: 1 };

  it('is left out with the one that brings the train back, and its work goes on from where it stands', () => {
    const driver = greedyShuttles([{ from: 'W1', runs: 3, priority: 2 }]);
    driver.command({ kind: 'hold-departures', hold: true });
    driver.wait(60_000);
    expect(driver.command(both)).toBeNull();
    expect(driver.train('T0').leg).toBe(2);
    letGo(driver);
    new MirrorTraffic(driver).runTo(1_800_000);
    expect(driver.train('T0').wait).toEqual({ kind: 'finished' });
    expect(new Set(driver.train('T0').calls.map(({ service }) => service))).toEqual(new Set([2]));
  });

  it('at the end of its work leaves the train where it is', () => {
    const driver = waiting('W1');
    expect(driver.command(both)).toBeNull();
    letGo(driver);
    expect(driver.train('T0').wait).toEqual({ kind: 'finished' });
  });

  it('to come is left out when the train has come to where it begins', () => {
    const driver = waiting('W1');
    expect(driver.command({ ...both, service: 1 })).toBeNull();
    letGo(driver);
    new MirrorTraffic(driver).runTo(1_800_000);
    expect(driver.path('T0').at(-1)).toMatch(/^E/);
    expect(driver.train('T0').wait).toEqual({ kind: 'finished' });
    expect(logs(driver)).toContain('T0 leaves out Service S0-1.');
  });

  it('is refused where the train would not be where its next service begins, and when it is too late', () => {
    const driver = greedyShuttles([{ from: 'W1', runs: 3, priority: 2 }]);
    driver.command({ kind: 'hold-departures', hold: true });
    expect(driver.command({ ...both, through: 0 })).toBe('apart');
    expect(driver.command({ ...both, service: 1, through: 0 })).toBe('no-such-service');
    letGo(driver);
    driver.wait(60_000);
    expect(driver.command(both)).toBe('too-late');
    expect(driver.command({ ...both, service: 1, through: 2 })).toBeNull();
    expect(driver.command({ ...both, service: 2, through: 2 })).toBe('cancelled');
  });

  it('is refused where the train stands in the track to which it would go next', () => {
    const driver = backToItsTrack();
    expect(driver.command({ kind: 'start' })).toBeNull();
    driver.command({ kind: 'hold-departures', hold: true });
    expect(driver.command(both)).toBe('there-already');
    expect(driver.train('T0').leg).toBe(0);
    expect(driver.state.dispatching.wishes.cancellations).toEqual([]);
    letGo(driver);
    new MirrorTraffic(driver).runTo(1_800_000);
    expect(driver.train('T0').wait).toEqual({ kind: 'finished' });
    expect(new Set(driver.train('T0').calls.map((it) => it.service))).toEqual(new Set([0, 1, 2]));
  });

  it('is run after all, before the train has left it out and after, while it still stands there', () => {
    const restore: Command = { kind: 'restore-services', train: 0, service: 1 };
    const driver = waiting('W1');
    expect(driver.command(restore)).toBe('not-cancelled');
    driver.command({ ...both, service: 1 });
    expect(driver.command(restore)).toBeNull();
    driver.command(both);
    expect(driver.train('T0').leg).toBe(2);
    expect(driver.command(restore)).toBeNull();
    expect(driver.train('T0').leg).toBe(0);
    letGo(driver);
    new MirrorTraffic(driver).runTo(1_800_000);
    const run = driver.train('T0').calls.map(({ service }) => service);
    expect(new Set(run)).toEqual(new Set([0, 1]));
  });

  it('is not run any more once the train has gone on behind it', () => {
    const driver = greedyShuttles([{ from: 'W1', runs: 3, priority: 2 }]);
    driver.command({ kind: 'hold-departures', hold: true });
    driver.command(both);
    letGo(driver);
    driver.wait(60_000);
    expect(driver.command({ kind: 'restore-services', train: 0, service: 0 })).toBe('too-late');
  });

  it('is refused where with the train standing there the others could not all finish', () => {
    // Every track of West and East is taken but one: somebody must move out of the way.
    const driver = greedyShuttles([
      { from: 'W1', runs: 1, priority: 2 },
      { from: 'W2', runs: 1, priority: 2 },
      { from: 'E1', runs: 1, priority: 2 },
      { from: 'E2', runs: 1, priority: 2 },
      { from: 'E3', runs: 1, priority: 2 },
    ]);
    driver.command({ kind: 'hold-departures', hold: true });
    const cancel = (train: number): Command => ({
      kind: 'cancel-services',
      train,
      service: train,
      through: train,
    });
    expect(driver.command(cancel(2))).toBeNull();
    expect(driver.command(cancel(3))).toBe('would-lock');
  });
});

/** A – B – L – E: a train in B runs to East, back to A, and last from there into B again. */
function backToItsTrack(): SessionDriver {
  const divided = (id: string): ReturnType<typeof block> => {
    const name = id.toLowerCase();
    const parts = [`${name}x`, `${name}y`, `${name}z`] as const;
    return block(id, 1200, {
      detection: detection([parts[0], 300], [parts[1], 600], [parts[2], 300]),
    });
  };
  const driver = new SessionDriver(
    layoutOf(
      [bufferStop('XA'), ...['A', 'B', 'L', 'E'].map(divided), bufferStop('XE')],
      ['XA.a A.a', 'A.b B.a', 'B.b L.a', 'L.b E.a', 'E.b XE.a'],
      { stations: [station('West', 0, ['A'], ['B']), station('East', 3, ['E'])] },
    ),
    stockOf([locomotive('L0', 1)], [], [train('T0', 'L0', { canReverse: true })]),
    timetableOf(
      [
        service('S0', 'West - 09:00', 'East 09:01 -'),
        service('S1', 'East - 09:02', call('West 09:03 -', { tracks: ['t1'] })),
        service('S2', 'West - 09:04', call('West 09:05 -', { tracks: ['t2'] })),
      ],
      { T0: 'S0 S1 S2' },
      { T0: 'B>b' },
    ),
  );
  driver.lineUp('by');
  driver.report('by', 1);
  driver.wait(10);
  return driver;
}

describe('whatever is wished', () => {
  it('all trains finish', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat(1_000_000), { minLength: 50, maxLength: 200 }),
        fc.integer({ min: 2, max: 4 }),
        (numbers, count) => {
          const places = ['W1', 'W2', 'E1', 'E2'].slice(0, count);
          const driver = greedyShuttles(places.map((from) => ({ from, runs: 2, priority: 3 })));
          let at = 0;
          const draw = (below: number): number => numbers[at++ % numbers.length]! % below;
          const wish = (): Command => {
            const train = draw(count);
            const service = train * 2 + draw(2);
            switch (draw(7)) {
              case 6: {
                // Stops a train for a fault, or sees to it.
                const it = driver.state.trains[train]!;
                if (it.activity.kind === 'standing')
                  it.activity = { kind: 'halted', why: 'it was not seen' };
                return { kind: 'release-train', train: draw(count) };
              }
              case 0:
                return { kind: 'cancel-services', train, service, through: train * 2 + draw(2) };
              case 3:
                return { kind: 'restore-services', train, service };
              case 1:
              case 2:
                return { kind: 'go-first', train, before: draw(count), first: draw(4) > 0 };
              default:
                return { kind: 'choose-track', train, service, call: 1, track: `${1 + draw(3)}` };
            }
          };
          let wished = 0;
          new MirrorTraffic(driver).runTo(3_600_000, () => {
            if (driver.now - wished < 15_000) return;
            wished = driver.now;
            driver.command(wish());
          });
          // In the end somebody has seen to each that was stopped.
          places.forEach((_, train) => driver.command({ kind: 'release-train', train }));
          new MirrorTraffic(driver).runTo(driver.now + 3_600_000);
          expect(driver.state.trains.map(({ wait }) => wait?.kind)).toEqual(
            places.map(() => 'finished'),
          );
        },
      ),
      { numRuns: 8, seed: 3 },
    );
  });
});

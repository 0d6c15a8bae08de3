import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Command } from '../../session/input.js';
import { MirrorTraffic } from '../../testing/mirror-traffic.js';
import type { SessionDriver } from '../../testing/session-driver.js';
import { greedyShuttles } from '../../testing/shuttle-line.js';
import { call } from '../../testing/timetable-parts.js';
import { formatClockText } from '../../timetable/clock-text.js';
import { fastNow } from '../../timetable/fast-clock.js';
import type { CallFile, ClockText } from '../../timetable/timetable-file.js';
import { fastTime } from '../../units.js';

const HOUR = 3_600_000;

const adding = (
  calls: readonly (string | CallFile)[],
  before: number | null = null,
  train = 0,
  name = 'Extra',
): Command => ({
  kind: 'add-service',
  train,
  service: { name, calls: calls.map((it) => (typeof it === 'string' ? call(it) : it)) },
  before,
});

const to = (station: string, more: Partial<CallFile> = {}): CallFile => ({
  station: station as CallFile['station'],
  ...more,
});

/** One shuttle West–East–West, and another that stands at East. */
const shuttles = (runs = 2): SessionDriver =>
  greedyShuttles([
    { from: 'W1', runs, priority: 3 },
    { from: 'E1', runs: 2, priority: 4 },
  ]);

/** Names of the services whose calls a train has made, with where it arrived. */
const arrivals = (driver: SessionDriver, id: string): string[] =>
  driver
    .train(id)
    .calls.filter(({ arrived }) => arrived !== null)
    .map(({ service, call: number }) => {
      const { file, calls } = driver.world.timetable.services[service]!;
      return `${file.name} ${driver.world.layout.stations[calls[number]!.station]!.file.id}`;
    });

const lastText = (driver: SessionDriver): string => {
  const answer = driver.effects.findLast(({ kind }) => kind === 'answer');
  return answer?.kind === 'answer' ? (answer.refusal?.text ?? '') : '';
};

describe('a service that is added', () => {
  it('is run behind all other work, and has times when it can be had', () => {
    const driver = shuttles();
    expect(driver.command(adding([to('East')]))).toBeNull();
    const { calls, file } = driver.world.timetable.services.at(-1)!;
    expect(file.calls[0]!.station).toBe('West');
    expect(calls[0]!.depart).toBeGreaterThanOrEqual(9 * HOUR + 60_000);
    expect(calls[1]!.arrive).toBeGreaterThan(calls[0]!.depart!);
    new MirrorTraffic(driver).runTo(3_600_000);
    expect(arrivals(driver, 'T0')).toEqual([
      'Service S0-0 East',
      'Service S0-1 West',
      'Extra East',
    ]);
    expect(driver.train('T0').calls.at(-1)!.delay).not.toBeNull();
  });

  it('is run by a train whose work was over, and by one that is on its way', () => {
    const driver = shuttles();
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(20_000);
    expect(driver.train('T0').arrivedAt).toBeNull();
    expect(driver.command(adding([to('East')]))).toBeNull();
    traffic.runTo(3_600_000);
    expect(driver.command(adding([to('West', { tracks: ['t3'] })], null, 0, 'Home'))).toBeNull();
    traffic.runTo(4_500_000);
    expect(arrivals(driver, 'T0').slice(-2)).toEqual(['Extra East', 'Home West']);
    expect(driver.path('T0')).toEqual(['W3']);
  });

  it('comes before a service that is named, if that begins where it ends', () => {
    const driver = shuttles();
    const [, back] = driver.world.timetable.workings[0]!.services;
    expect(driver.command(adding([to('West')], back!))).toBe('apart');
    expect(lastText(driver)).toContain('begins at Station East. Let it end at Station East');
    expect(driver.command(adding([to('East'), to('West'), to('East')], back!))).toBe('not-free');
    expect(driver.world.timetable.services).toHaveLength(4);
  });

  it('waits for its time, and not before it is told', () => {
    const driver = shuttles();
    const command = adding(['West - 10:00', 'East 10:10 -']);
    expect(driver.command(command)).toBeNull();
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(580_000);
    expect(arrivals(driver, 'T0')).not.toContain('Extra East');
    traffic.runTo(3_600_000);
    const record = driver.train('T0').calls.find(({ service }) => service === 4)!;
    expect(record.departed).toBeGreaterThanOrEqual(10 * HOUR);
  });

  it('without times comes behind all other work, however early it may leave', () => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 2, priority: 3, later: ['11:00', '11:10'] },
    ]);
    const service = { name: 'Extra', calls: [to('East')], notBefore: '10:00' as ClockText };
    expect(driver.command({ kind: 'add-service', train: 0, service, before: null })).toBeNull();
    const added = driver.world.timetable.services.at(-1)!;
    expect(driver.world.timetable.workings[0]!.services).toEqual([0, 1, added.index]);
    expect(added.calls[0]!.depart).toBeGreaterThanOrEqual(11 * HOUR + 600_000);
  });

  it('takes the place of what is cancelled, for good', () => {
    const driver = shuttles();
    const [there, back] = driver.world.timetable.workings[0]!.services;
    driver.command({ kind: 'hold-departures', hold: true });
    const cancel: Command = {
      kind: 'cancel-services',
      train: 0,
      service: there!,
      through: back!,
    };
    expect(driver.command(cancel)).toBeNull();
    expect(driver.command(adding([to('East')]))).toBeNull();
    expect(driver.world.timetable.services[4]!.file.calls[0]!.station).toBe('West');
    const restore: Command = { kind: 'restore-services', train: 0, service: there! };
    expect(driver.command(restore)).toBe('too-late');
    driver.command({ kind: 'hold-departures', hold: false });
    new MirrorTraffic(driver).runTo(3_600_000);
    expect(arrivals(driver, 'T0')).toEqual(['Extra East']);
  });

  it('leaves the track that a yard’s rules gave at the stop for which they gave it', () => {
    const driver = shuttles(4);
    driver.command({ kind: 'hold-departures', hold: true });
    driver.command({ kind: 'cancel-services', train: 0, service: 0, through: 1 });
    driver.command({ kind: 'hold-departures', hold: false });
    new MirrorTraffic(driver).runTo(150_000);
    expect(arrivals(driver, 'T0')[0]).toBe('Service S0-2 East');
    const choice = { station: 1, track: 0, why: 'As told.', visit: 1, usedBefore: 0 };
    driver.state.staging.choices[0] = { ...choice, stop: 3 };
    expect(driver.command(adding([to('East')]))).toBeNull();
    expect(driver.state.staging.choices[0]).toEqual({ ...choice, stop: 1 });
  });

  it('may be cancelled in its turn', () => {
    const driver = shuttles();
    expect(driver.command(adding([to('East')]))).toBeNull();
    const cancel: Command = { kind: 'cancel-services', train: 0, service: 4, through: 4 };
    expect(driver.command(cancel)).toBeNull();
    new MirrorTraffic(driver).runTo(3_600_000);
    expect(arrivals(driver, 'T0')).toEqual(['Service S0-0 East', 'Service S0-1 West']);
  });

  it('is put between two that there is time between, and what is wished of the later stays', () => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 2, priority: 3, later: ['11:00', '11:10'] },
      { from: 'W2', runs: 2, priority: 4, later: ['11:00', '11:10'] },
    ]);
    const choice: Command = { kind: 'choose-track', train: 0, service: 1, call: 1, track: '3' };
    const first: Command = { kind: 'go-first', train: 1, before: 0, first: true };
    expect([driver.command(choice), driver.command(first)]).toEqual([null, null]);
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(5_000);
    expect(driver.command(adding([to('West'), to('East')], 1))).toBe('apart');
    expect(driver.command(adding([to('East'), to('West'), to('East')], 1))).toBeNull();
    expect(driver.command(adding(['East - 11:20', 'West 11:30 -'], null, 0, 'Late'))).toBe('apart');
    expect(driver.command(adding(['West - 11:30', 'East 11:40 -'], null, 0, 'Late'))).toBeNull();
    const { tracks } = driver.state.dispatching.wishes;
    expect(tracks.map(({ leg }) => leg)).toEqual([3]);
    const seen: string[] = [];
    const stoodIn: string[] = [];
    traffic.runTo(3_600_000, () => {
      const own = arrivals(driver, 'T0').join(', ');
      if (seen.at(-1) !== own && driver.path('T0').length === 1) seen.push(own);
      if (arrivals(driver, 'T0').length === 4) stoodIn.push(driver.path('T0')[0]!);
    });
    expect(stoodIn[0]).toBe('W3');
    expect(seen.at(-1)).toBe(
      'Service S0-0 East, Extra West, Extra East, Service S0-1 West, Late East',
    );
  });

  it.each<[string, string, Command]>([
    ['a train that is not there', 'no-such-train', adding([to('East')], null, 9)],
    ['a place that is not there', 'faulty-service', adding([to('North')])],
    ['a track that is not there', 'faulty-service', adding([to('East', { tracks: ['X'] })])],
    ['nowhere to go', 'faulty-service', adding([])],
    ['half of the times', 'faulty-service', adding(['West - 10:00', to('East')])],
    ['times that fall', 'faulty-service', adding(['West - 10:00', 'East 09:50 -'])],
    ['times past the end', 'faulty-service', adding(['West - 12:50', 'East 13:10 -'])],
    ['another beginning', 'apart', adding(['East - 10:00', 'West 10:10 -'])],
    ['a name that is taken', 'name-taken', adding([to('East')], null, 0, 'Service S0-0')],
    ['a service of another train', 'no-such-service', adding([to('East')], 3)],
    ['a time before it is free', 'not-free', adding(['West - 09:00', 'East 09:30 -'])],
  ])('is refused with %s', (_, code, command) => {
    const driver = shuttles();
    driver.command({ kind: 'hold-departures', hold: true });
    const before = JSON.stringify(driver.state.trains);
    expect(driver.command(command)).toBe(code);
    expect(lastText(driver)).toMatch(/\.$/);
    expect(JSON.stringify(driver.state.trains)).toBe(before);
    expect(driver.state.added.services).toEqual([]);
  });

  it('is refused to where the train stands', () => {
    const driver = shuttles(1);
    new MirrorTraffic(driver).runTo(1_200_000);
    const [at] = driver.path('T0');
    expect(driver.command(adding([to('East', { tracks: [at!.replace('E', 't')] })]))).toBe(
      'there-already',
    );
    expect(driver.state.added.services).toEqual([]);
  });

  it('is refused when its time is over, naming the clock', () => {
    const driver = shuttles(2);
    new MirrorTraffic(driver).runTo(1_200_000);
    const begin = formatClockText(
      fastTime(fastNow(driver.state.session.clock, driver.now) - 60_000),
    );
    expect(driver.command(adding([`West - ${begin}`, 'East 12:00 -']))).toBe('too-late');
    expect(lastText(driver)).toContain('leave later');
  });
});

const someAdditions = fc.array(
  fc.record({
    at: fc.integer({ min: 0, max: 900_000 }),
    train: fc.integer({ min: 0, max: 2 }),
    station: fc.constantFrom('West', 'East'),
    track: fc.constantFrom('t1', 't2', 't3', null),
  }),
  { minLength: 1, maxLength: 5 },
);

describe('whatever is added to whose work, and when', () => {
  const run = (
    additions: readonly { at: number; train: number; station: string; track: string | null }[],
    roundTrip: boolean,
  ): { driver: SessionDriver; taken: [number, string][] } => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 2, priority: 3 },
      { from: 'W2', runs: 3, priority: 4 },
      { from: 'E1', runs: 2, priority: 4 },
    ]);
    driver.roundTrip = roundTrip;
    const traffic = new MirrorTraffic(driver);
    const taken: [number, string][] = [];
    [...additions]
      .sort((a, b) => a.at - b.at)
      .forEach(({ at, train, station, track }, number) => {
        traffic.runTo(Math.max(at, driver.now));
        const tracks = track === null ? {} : { tracks: [track] };
        const name = `Extra ${number}`;
        if (driver.command(adding([to(station, tracks)], null, train, name)) === null)
          taken.push([train, `${name} ${station}`]);
      });
    traffic.runTo(6_000_000);
    return { driver, taken };
  };

  it('all that was taken is run in order, and nobody is locked', () => {
    fc.assert(
      fc.property(someAdditions, (additions) => {
        const { driver, taken } = run(additions, false);
        for (const index of [0, 1, 2]) {
          const extra = taken.filter(([train]) => train === index).map(([, text]) => text);
          const made = arrivals(driver, `T${index}`).filter((it) => it.startsWith('Extra'));
          expect(made).toEqual(extra);
          expect(driver.world.graphs[index]!.isGoal(driver.train(`T${index}`).node)).toBe(true);
        }
      }),
      { numRuns: 25 },
    );
  });

  it('replay on a world without it gives the same bytes, and so does a memory written out at every step', () => {
    fc.assert(
      fc.property(someAdditions, (additions) => {
        const { driver } = run(additions, true);
        expect(JSON.stringify(driver.replay())).toBe(JSON.stringify(driver.effects));
      }),
      { numRuns: 10 },
    );
  });
});

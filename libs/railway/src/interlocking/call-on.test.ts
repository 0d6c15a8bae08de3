import { describe, expect, it } from 'vitest';
import { headAt } from '../movement/train-motion.js';
import { limitsAhead } from '../movement/limits.js';
import { Writer } from '../session/writer.js';
import { routeOf } from '../testing/edit.js';
import { SessionDriver } from '../testing/session-driver.js';
import { meetAtPlatform, sharedPlatform, twoEngines } from '../testing/shared-platform.js';
import { CALL_ON_GAP } from './call-on.js';
import { obstacleOn } from './route-check.js';

/** P stands in W, Q in PB facing it; the session may start, and P is to leave at 09:10, after 100 s. */
function linedUp(callOn: boolean): SessionDriver {
  const timetable = meetAtPlatform();
  const services = timetable.services.filter(({ id }) => id === 'P1');
  const driver = new SessionDriver(sharedPlatform(callOn), twoEngines(), {
    ...timetable,
    services,
    workings: timetable.workings.filter(({ train }) => train === 'P'),
    storedPlaces: timetable.storedPlaces.map((place) =>
      place.train === 'Q' ? { ...place, block: 'PB' as typeof place.block } : place,
    ),
  });
  driver.lineUp('w2', 'pb1');
  driver.report('w2', 3);
  driver.report('pb1', 4);
  return driver;
}

/** The same where the layout allows it, running. */
function facing(): SessionDriver {
  const driver = linedUp(true);
  expect(driver.command({ kind: 'start' })).toBe(null);
  return driver;
}

const obstacle = (driver: SessionDriver, route = 'W>PA', train = 0) =>
  obstacleOn(driver.world, driver.state, train, routeOf(driver.world.layout, route));
const heldByQ = (driver: SessionDriver) => ({
  kind: 'element-held',
  element: driver.elementIndex('PB'),
  by: 1,
});

describe('a train is called on into a track in which another stands', () => {
  it('where the layout allows it, and the other is known and stands', () => {
    expect(obstacle(facing())).toBe(null);
  });

  it('not where the layout does not allow it; a session in which that would have to be does not start', () => {
    const driver = linedUp(false);
    expect(obstacle(driver)).toEqual(heldByQ(driver));
    expect(driver.command({ kind: 'start' })).toBe('locked-up');
  });

  it.each<[string, (driver: SessionDriver) => void]>([
    ['is not certain', (it) => void (it.train('Q').identity.certainty = 'ambiguous')],
    ['is not confirmed', (it) => void (it.train('Q').confirmed = false)],
    ['has moved where it should not', (it) => void (it.train('Q').adrift = true)],
    [
      'was stopped for a fault',
      (it) => void (it.train('Q').activity = { kind: 'halted', why: '' }),
    ],
    ['moves', (it) => void (it.train('Q').activity = { kind: 'moving' })],
    [
      'is in doubt with another',
      (it) =>
        void it.state.doubts.push({
          trains: [1],
          places: [],
          assignments: [],
          reads: [],
          said: [],
          evidence: '',
          since: 0,
        }),
    ],
    [
      'holds more than the track',
      (it) => {
        const own = it.train('Q').path[0]!;
        it.train('Q').path.push({ ...own, element: it.elementIndex('E') });
      },
    ],
  ])('not when the other %s', (_, change) => {
    const driver = facing();
    change(driver);
    expect(obstacle(driver)).toEqual(heldByQ(driver));
  });

  it('not when something unknown is in the track', () => {
    const driver = facing();
    driver.state.elements[driver.elementIndex('PB')]!.holder = -1;
    const section = driver.sectionIndex('pb1');
    expect(obstacle(driver)).toEqual({ kind: 'section-occupied', section, belief: 'occupied' });
  });

  it('never into the block where it stands', () => {
    const driver = facing();
    expect(obstacle(driver, 'PA>PB')).toEqual(heldByQ(driver));
  });

  it('at restricted speed from the signal on, which shows call-on, and short of the other', () => {
    const driver = facing();
    driver.wait(101_000);
    expect(driver.path('P')).toEqual(['W', 'PA']);
    expect(driver.signal('W>b')).toBe('call-on');
    const train = driver.train('P');
    const end = train.path[1]!.end;
    expect(train.limit).toBe(end - CALL_ON_GAP);
    expect(train.mark).toBe(end - 160);
    const limits = limitsAhead(new Writer(driver.world, driver.state, driver.now, 0), 0);
    const there = limits.findLast(({ from }) => from <= train.path[1]!.start * 1000)!;
    expect(there.speed).toBe(driver.world.restrictedSpeed);
    expect(headAt(driver.world.models[0]!, train, driver.now)).toBeLessThan(train.limit * 1000);
  });
});

it('without another in the track a train comes in as anywhere', () => {
  const driver = new SessionDriver(sharedPlatform(), twoEngines(), meetAtPlatform());
  driver.lineUp('w2', 'e2');
  driver.report('w2', 3);
  driver.report('e2', 4);
  expect(driver.command({ kind: 'start' })).toBe(null);
  driver.wait(11_000);
  expect(driver.path('Q').slice(0, 2)).toEqual(['E', 'PB']);
  expect(driver.train('Q').path[1]!.calledOn).toBe(undefined);
  expect(driver.signal('E>a')).toMatch(/caution|proceed/);
});

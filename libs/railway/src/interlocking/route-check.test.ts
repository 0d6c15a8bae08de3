import { describe, expect, it } from 'vitest';
import { routeOf } from '../testing/edit.js';
import { balloonLoop } from '../testing/layout-parts.js';
import { SessionDriver } from '../testing/session-driver.js';
import { linedUpCrossing } from '../testing/session-settings.js';
import { twoTrains } from '../testing/stock-parts.js';
import { timetableOf } from '../testing/timetable-parts.js';
import { obstacleOn } from './route-check.js';

/** Everything clear on the passing loop but for P in W and G in E; what stands in the way of P to M. */
function wayToM(change: (driver: SessionDriver) => void = () => {}) {
  const driver = linedUpCrossing();
  change(driver);
  const reason = obstacleOn(driver.world, driver.state, 0, routeOf(driver.world.layout, 'W>M'));
  return { reason, driver };
}

describe('a route is free', () => {
  it('when nobody holds it and nothing is seen on it', () => {
    expect(wayToM().reason).toBe(null);
  });

  it('unless another train holds an element of it', () => {
    const { reason, driver } = wayToM((it) => {
      it.element('M').holder = 1;
    });
    expect(reason).toEqual({ kind: 'element-held', element: driver.elementIndex('M'), by: 1 });
  });

  it('unless the train’s own rear still holds one', () => {
    const { reason, driver } = wayToM((it) => {
      it.element('TW').holder = 0;
    });
    expect(reason).toEqual({ kind: 'own-tail', element: driver.elementIndex('TW') });
  });

  it('unless an element is closed by a possession', () => {
    const { reason, driver } = wayToM((it) => {
      it.element('M').possession = 'Track cleaning';
    });
    expect(reason).toEqual({
      kind: 'possession',
      element: driver.elementIndex('M'),
      name: 'Track cleaning',
    });
  });

  it('unless a drive has failed', () => {
    const { reason, driver } = wayToM((it) => {
      it.element('TW').proof = 'failed';
    });
    expect(reason).toEqual({ kind: 'turnout-failed', element: driver.elementIndex('TW') });
  });

  it('unless a section of it is occupied', () => {
    const { reason, driver } = wayToM((it) => it.occupied('m2'));
    const section = driver.sectionIndex('m2');
    expect(reason).toEqual({ kind: 'section-occupied', section, belief: 'occupied' });
  });

  it('unless nothing is known of a section of it', () => {
    const { reason, driver } = wayToM((it) => {
      it.section('m3').belief = 'unknown';
    });
    const section = driver.sectionIndex('m3');
    expect(reason).toEqual({ kind: 'section-occupied', section, belief: 'unknown' });
  });

  it('unless the bus of its detectors is silent', () => {
    const { reason, driver } = wayToM((it) => {
      it.state.buses['bus1'] = false;
    });
    const section = driver.sectionIndex('s-TW');
    expect(reason).toEqual({ kind: 'section-occupied', section, belief: 'unknown' });
  });

  it('unless a section of it is claimed for another train', () => {
    const { reason, driver } = wayToM((it) => {
      it.section('m1').claim = 1;
    });
    const section = driver.sectionIndex('m1');
    expect(reason).toEqual({ kind: 'section-claimed', section, by: 1 });
  });

  it('but not for what is beside it', () => {
    expect(wayToM((it) => it.occupied('s2')).reason).toBe(null);
  });
});

describe('a route into a reversing section', () => {
  function wayIntoLoop(change: (driver: SessionDriver) => void) {
    const driver = new SessionDriver(balloonLoop(), twoTrains(), timetableOf([], {}, { P: 'A>b' }));
    driver.lineUp('s-A');
    change(driver);
    const route = driver.world.layout.routesFrom[driver.heading('A>b')]!;
    return {
      driver,
      reasons: route.map((it) =>
        obstacleOn(driver.world, driver.state, 0, driver.world.layout.routes[it]!),
      ),
    };
  }

  it('is free while nobody bridges its gaps', () => {
    expect(wayIntoLoop(() => {}).reasons).toEqual([null, null]);
  });

  it('waits for another train that bridges them', () => {
    const { reasons, driver } = wayIntoLoop((it) => {
      it.element('R').holder = 1;
    });
    const held = { kind: 'element-held', element: driver.elementIndex('R'), by: 1 };
    expect(reasons).toEqual([held, held]);
  });

  it('waits for the train itself when it bridges them with the other polarity', () => {
    const { reasons, driver } = wayIntoLoop((it) => {
      it.element('R').holder = 0;
      it.element('R').position = 'normal';
    });
    const tail = { kind: 'own-tail', element: driver.elementIndex('R') };
    expect(reasons).toContainEqual(tail);
    expect(reasons).toContainEqual(null);
  });

  it('is not free while the polarity is not proven', () => {
    const { reasons, driver } = wayIntoLoop((it) => {
      it.element('R').proof = 'failed';
    });
    const failed = { kind: 'turnout-failed', element: driver.elementIndex('R') };
    expect(reasons).toEqual([failed, failed]);
  });
});

import { describe, expect, it } from 'vitest';
import type { DispatchPlan, PlannedCall } from '../dispatching/plan.js';
import { PLAN_LASTS } from '../dispatching/follow-plan.js';
import { fastNow } from './fast-clock.js';
import { forecastOf } from './forecast.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { line, oneTrain, runningLine } from '../testing/session-settings.js';
import { service, timetableOf } from '../testing/timetable-parts.js';

const at = (hours: number, minutes: number): number => (hours * 60 + minutes) * 60_000;
/** The engine knows what time it is from its last input. */
function forecast(driver: SessionDriver) {
  driver.feed({ at: driver.now, kind: 'deadline' });
  return forecastOf(driver.world, driver.state, 0)!;
}
const fast = ({ state }: SessionDriver): number => fastNow(state.session.clock, state.now);

/** T is booked from 09:01 to 09:10 and back from 09:40 to 09:50. */
const BOOKED = [
  { service: 0, call: 0, arrive: null, depart: at(9, 1) },
  { service: 0, call: 1, arrive: at(9, 10), depart: null },
];

function planned(driver: SessionDriver, calls: readonly PlannedCall[], made = driver.now): void {
  const plan: DispatchPlan = { made, edition: 0, steps: [], calls };
  driver.feed({ at: driver.now, kind: 'plan', plan });
}

describe('without a plan a train is expected', () => {
  it('as booked while it is not late, half an hour ahead', () => {
    expect(forecast(runningLine())).toEqual({ by: 'lateness', calls: BOOKED });
  });

  it('later by what it has been held, and no more once it may go', () => {
    const driver = runningLine();
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    driver.wait(40_000);
    // The clock runs six times as fast, and it could have left after ten seconds.
    driver.command({ kind: 'hold-train', train: 0, hold: false });
    const late = Math.round(fast(driver)) - at(9, 1);
    expect(late).toBeGreaterThan(2.9 * 60_000);
    const [next] = forecast(driver).calls;
    expect(driver.train('T').arrivedAt).toBeNull();
    expect(next!.arrive).toBeGreaterThanOrEqual(at(9, 10) + late - 1000);
  });

  it('never earlier than it can run there', () => {
    const driver = runningLine();
    const traffic = new MirrorTraffic(driver);
    while (driver.train('T').leg === 0) {
      traffic.runTo(driver.now + 500);
      if (driver.train('T').arrivedAt !== null) continue;
      const [first] = forecast(driver).calls;
      expect(first!.arrive).toBeGreaterThanOrEqual(at(9, 10));
    }
    const arrived = driver.train('T').calls.at(-1)!.arrived!;
    expect(arrived).toBeLessThan(at(9, 10));
    const hurried = runningLine();
    hurried.wait(11_000);
    // With the clock running so fast it is booked to be there before it can be.
    hurried.command({ kind: 'set-clock-ratio', ratio: 60 });
    const least = forecast(hurried).calls[0]!.arrive!;
    const follow = new MirrorTraffic(hurried);
    while (hurried.train('T').leg === 0) follow.runTo(hurried.now + 100);
    const came = hurried.train('T').calls.find(({ call }) => call === 1)!.arrived!;
    expect(least).toBeGreaterThan(at(9, 10));
    expect(came).toBeGreaterThanOrEqual(least);
  });

  it('at its next service as booked, whatever its way to the next call takes', () => {
    const soon = timetableOf(
      [
        service('S1', 'West - 09:01', 'East 09:10 -'),
        service('S2', 'East - 09:12', 'West 09:12:10 -'),
      ],
      { T: 'S1 S2' },
      { T: 'A>b' },
    );
    const { calls } = forecast(runningLine(line(), oneTrain(), soon));
    const [leaves, comes] = calls.filter((call) => call.service === 1);
    expect(leaves!.depart).toBe(at(9, 12));
    expect(comes!.arrive).toBe(at(9, 12) + 10_000);
  });

  it('nowhere when its work is done or it is not on the layout', () => {
    const driver = runningLine();
    driver.train('T').leg = 2;
    expect(forecast(driver)).toBeNull();
    driver.train('T').leg = 0;
    driver.train('T').activity = { kind: 'absent' };
    expect(forecast(driver)).toBeNull();
  });
});

describe('with a plan a train is expected', () => {
  const told = [
    { train: 0, service: 0, call: 0, arrive: null, depart: at(9, 3) },
    { train: 0, service: 0, call: 1, arrive: at(9, 14), depart: null },
  ];
  const calls = told.map(({ service, call, arrive, depart }) => ({
    service,
    call,
    arrive,
    depart,
  }));

  it('as the plan has it, but not before now', () => {
    const driver = runningLine();
    planned(driver, told);
    expect(forecast(driver)).toEqual({ by: 'plan', calls });
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    driver.wait(40_000);
    expect(forecast(driver).calls[0]!.depart).toBe(Math.round(fast(driver)));
  });

  it('plainly again once the plan is old, says nothing of its next call, or was left', () => {
    const driver = runningLine();
    planned(driver, told.slice(1));
    expect(forecast(driver).by).toBe('lateness');
    planned(driver, told);
    driver.state.dispatching.plan!.next[0] = 1;
    expect(forecast(driver).by).toBe('lateness');
    driver.state.dispatching.plan!.next[0] = 0;
    expect(forecast(driver).by).toBe('plan');
    driver.command({ kind: 'hold-train', train: 0, hold: true });
    driver.wait(PLAN_LASTS);
    expect(forecast(driver).by).toBe('lateness');
  });
});

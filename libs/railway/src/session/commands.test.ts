import { describe, expect, it } from 'vitest';
import type { SessionDriver } from '../testing/session-driver.js';
import { SessionDriver as Driver } from '../testing/session-driver.js';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import {
  crossing,
  dividedLoop,
  linedUpCrossing,
  oneTrain,
  line,
  runningCrossing,
  runningLine,
  thereAndBack,
} from '../testing/session-settings.js';
import { twoTrains } from '../testing/stock-parts.js';
import type { Command, CommandKind } from './input.js';
import { storedPlaces } from './ending.js';
import { fastNow } from '../timetable/fast-clock.js';

/** Sessions in each phase. */
const PHASES: Record<string, () => SessionDriver> = {
  'set-up': () => new Driver(dividedLoop(), twoTrains(), crossing()),
  'line-up': () => linedUpCrossing(),
  running: () => runningCrossing(),
  paused: () => after({ kind: 'pause' }),
  stopped: () => after({ kind: 'stop-all' }),
  powerless: () => after({ kind: 'cut-power' }),
  ended: () => after({ kind: 'end-session' }),
};

function after(command: Command): SessionDriver {
  const driver = runningCrossing();
  driver.command(command);
  driver.wait(2000);
  return driver;
}

/** By phase: what each command comes to, a refusal's code or the phase after it. */
const ANSWERS: Partial<Record<CommandKind, Record<string, string>>> = {
  'power-up': {
    'set-up': 'line-up',
    'line-up': '!power-is-on',
    running: '!power-is-on',
    paused: '!power-is-on',
    stopped: 'line-up',
    powerless: 'line-up',
    ended: '!ended',
  },
  start: {
    'set-up': '!wrong-phase',
    'line-up': 'running',
    running: '!wrong-phase',
    paused: '!wrong-phase',
    stopped: '!wrong-phase',
    powerless: '!wrong-phase',
    ended: '!wrong-phase',
  },
  resume: {
    'set-up': '!wrong-phase',
    'line-up': 'running',
    running: '!wrong-phase',
    paused: 'running',
    stopped: 'running',
    powerless: '!wrong-phase',
    ended: '!wrong-phase',
  },
  pause: {
    'set-up': '!not-running',
    'line-up': '!not-running',
    running: 'paused',
    paused: '!not-running',
    stopped: '!not-running',
    powerless: '!not-running',
    ended: '!not-running',
  },
  'stop-all': {
    'set-up': 'set-up',
    'line-up': 'line-up',
    running: 'stopped',
    paused: 'stopped',
    stopped: 'stopped',
    powerless: 'powerless',
    ended: 'ended',
  },
  'cut-power': {
    'set-up': 'powerless',
    'line-up': 'powerless',
    running: 'powerless',
    paused: 'powerless',
    stopped: 'powerless',
    powerless: 'powerless',
    ended: 'powerless',
  },
  'end-session': {
    'set-up': '!not-running',
    'line-up': '!not-running',
    running: 'ended',
    paused: 'ended',
    stopped: '!not-running',
    powerless: '!not-running',
    ended: '!ended',
  },
};

describe('commands by phase', () => {
  for (const [kind, answers] of Object.entries(ANSWERS)) {
    for (const [phase, wanted] of Object.entries(answers)) {
      it(`${kind} in ${phase}: ${wanted}`, () => {
        const driver = PHASES[phase]!();
        expect(driver.state.session.phase.kind).toBe(phase);
        const refused = driver.command({ kind } as Command);
        const answer = refused === null ? driver.state.session.phase.kind : `!${refused}`;
        expect(answer).toBe(wanted);
      });
    }
  }
});

describe('a refused command', () => {
  it('says so in a sentence and changes nothing', () => {
    const driver = runningLine();
    const before = JSON.stringify({ ...driver.state, revision: 0 });
    const [answer] = driver.feed({
      at: driver.now,
      kind: 'command',
      by: 'Ada',
      command: { kind: 'start' },
    });
    expect(answer).toEqual({
      kind: 'answer',
      refusal: { code: 'wrong-phase', text: 'The session cannot be started from here.' },
    });
    expect(JSON.stringify({ ...driver.state, revision: 0 })).toBe(before);
  });

  it('is one that names a train or a block that does not exist', () => {
    const driver = runningLine();
    for (const train of [-1, 1, 7, 0.5]) {
      expect(driver.command({ kind: 'hold-train', train, hold: true })).toBe('no-such-train');
      expect(driver.command({ kind: 'release-train', train })).toBe('no-such-train');
      expect(driver.command({ kind: 'confirm-absent', train })).toBe('no-such-train');
    }
    for (const block of [-1, 0, 99, 4.2]) {
      expect(driver.command({ kind: 'confirm-clear', block })).toBe('no-such-block');
      expect(driver.command({ kind: 'declare-identity', train: 0, block })).toBe('no-such-block');
    }
    for (const heading of [-2, 0, 99, 2.5, 2 ** 33]) {
      expect(driver.command({ kind: 'confirm-place', train: 0, heading })).toBe('no-such-block');
    }
  });

  it('is one that would move a running train in the books', () => {
    const driver = runningLine();
    driver.wait(10_300);
    const heading = driver.heading('C>b');
    expect(driver.command({ kind: 'confirm-place', train: 0, heading })).toBe('moving');
    expect(driver.command({ kind: 'confirm-absent', train: 0 })).toBe('moving');
    expect(driver.command({ kind: 'release-train', train: 0 })).toBe('not-halted');
  });

  it('is a clock that would stand or race, and an alarm that is none', () => {
    const driver = runningLine();
    for (const ratio of [0, 0.5, 61, Number.NaN]) {
      expect(driver.command({ kind: 'set-clock-ratio', ratio })).toBe('bad-ratio');
    }
    expect(driver.command({ kind: 'acknowledge-alarm', alarm: 5 })).toBe('no-such-alarm');
  });
});

describe('an alarm', () => {
  it('is raised once while it stands, and again after it was cleared', () => {
    const driver = runningLine();
    driver.occupied('d2');
    driver.free('d2');
    driver.occupied('d2');
    expect(driver.state.alarms).toHaveLength(1);
    expect(
      driver.command({ kind: 'acknowledge-alarm', alarm: driver.state.alarms[0]!.id }, 'Bo'),
    ).toBe(null);
    expect(driver.state.alarms[0]).toMatchObject({ acknowledgedBy: 'Bo', clearedAt: null });
    driver.free('d2');
    driver.wait(400);
    expect(driver.state.alarms[0]!.clearedAt).toBe(driver.now);
    driver.occupied('d2');
    expect(driver.state.alarms).toHaveLength(2);
    expect(driver.state.counts.alarms).toBe(2);
  });

  it('is kept no longer than two hundred others', () => {
    const driver = runningLine();
    for (let round = 0; round < 230; round++) {
      driver.occupied('d2');
      driver.free('d2');
      driver.wait(400);
    }
    expect(driver.state.alarms).toHaveLength(200);
    expect(driver.state.nextAlarm).toBe(231);
  });
});

describe('before confirmation', () => {
  it('nothing moves, whatever is asked', () => {
    const driver = new Driver(line(), oneTrain(), thereAndBack());
    driver.lineUp('a2');
    const asked: Command[] = [
      { kind: 'start' },
      { kind: 'resume' },
      { kind: 'release-train', train: 0 },
      { kind: 'hold-departures', hold: false },
      { kind: 'set-route', train: 0, block: driver.elementIndex('B') },
      { kind: 'drive', train: 0, speed: 100 },
    ];
    for (const command of asked) {
      driver.command(command);
      driver.wait(60_000);
    }
    expect(
      driver.sent.filter(({ command }) => command.kind === 'set-speed' && command.step > 0),
    ).toEqual([]);
    expect(driver.heldBy('T')).toEqual(['A']);
  });
});

describe('what was commanded', () => {
  it('is written down with the place a route was set to, so that one after the other can be told apart', () => {
    const driver = runningLine();
    driver.command({ kind: 'hold-departures', hold: true });
    expect(
      driver.command({ kind: 'set-route', train: 0, block: driver.elementIndex('B') }),
    ).toBeNull();
    const written = driver.effects.flatMap((effect) =>
      effect.kind === 'log' ? [effect.text] : [],
    );
    expect(written).toContain('Ada: set route: T to B');
  });
});

describe('pausing', () => {
  it('stops the clock and departures; trains under way run on to their next call', () => {
    const driver = runningLine();
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(14_000);
    driver.command({ kind: 'pause' });
    const shown = fastNow(driver.state.session.clock, driver.now);
    traffic.runTo(100_000);
    expect(fastNow(driver.state.session.clock, driver.now)).toBe(shown);
    expect(driver.path('T').at(-1)).toBe('D');
    expect(driver.train('T')).toMatchObject({ leg: 1, wait: { kind: 'not-running' } });
    traffic.runTo(900_000);
    expect(driver.train('T').leg).toBe(1);
    driver.command({ kind: 'resume' });
    traffic.runTo(1_700_000);
    expect(driver.train('T').wait).toEqual({ kind: 'finished' });
  });
});

describe('ending a session', () => {
  it('lets trains under way reach their call, begins nothing new, and saves the next line-up', () => {
    const driver = runningLine();
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(14_000);
    expect(driver.command({ kind: 'end-session' })).toBe(null);
    expect(driver.state.session.phase.kind).toBe('ending');
    traffic.runTo(600_000);
    expect(driver.state.session.phase.kind).toBe('ended');
    expect(storedPlaces(driver)).toEqual([{ train: 'T', block: 'D', towards: 'b' }]);
  });

  it('saves which way round a train stands that ran back', () => {
    const driver = runningLine();
    new MirrorTraffic(driver).runTo(900_000);
    expect(driver.path('T')).toEqual(['A']);
    driver.command({ kind: 'end-session' });
    expect(driver.state.session.phase.kind).toBe('ended');
    expect(storedPlaces(driver)).toEqual([{ train: 'T', block: 'A', towards: 'b' }]);
  });

  it('does not wait for a train that was only put on the layout and has no work', () => {
    const timetable = { ...thereAndBack(), services: [], workings: [], storedPlaces: [] };
    const driver = new Driver(line(), oneTrain(), timetable);
    driver.lineUp('c2');
    driver.command({ kind: 'confirm-place', train: 0, heading: driver.heading('C>b') });
    expect(driver.command({ kind: 'start' })).toBe(null);
    driver.wait(5000);
    driver.command({ kind: 'end-session' });
    driver.wait(5000);
    expect(driver.state.session.phase.kind).toBe('ended');
  });
});

describe('a halted train whose place a person confirms', () => {
  it('runs on to where it has authority', () => {
    const driver = runningLine();
    const traffic = new MirrorTraffic(driver);
    while (driver.path('T').at(-1) !== 'D') traffic.runTo(driver.now + 100);
    const { edge } = driver.train('T');
    driver.wait(60_000);
    expect(driver.train('T').activity.kind).toBe('halted');
    const heading = driver.train('T').path.at(-1)!.heading;
    expect(driver.command({ kind: 'confirm-place', train: 0, heading })).toBe(null);
    driver.wait(1000);
    expect(driver.train('T').activity.kind).toBe('moving');
    expect(driver.train('T').edge).toBe(edge);
    expect(driver.speedOf(3)).toBeGreaterThan(0);
  });
});

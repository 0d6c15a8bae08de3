import type { Changes, DeviceCommand, DeviceEvent, Effect, Input } from '@blockbell/railway';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { DevicePort } from '../devices/device-port.js';
import { SessionRunner, type RunnableEngine } from './session-runner.js';

beforeEach(() => {
  vi.useFakeTimers({
    toFake: ['setTimeout', 'clearTimeout', 'setImmediate', 'clearImmediate', 'performance'],
  });
});
afterEach(() => {
  vi.useRealTimers();
});

const wall = (): number => performance.now();

const NOTHING: Changes = {
  session: false,
  lineUp: false,
  sections: new Set(),
  elements: new Set(),
  trains: new Set(),
  signals: new Set(),
  alarms: new Set(),
};

/** An engine that keeps what it was given, wakes at given moments and answers commands. */
class RecordingEngine implements RunnableEngine {
  readonly inputs: Input[] = [];
  deadlines: number[] = [];
  effects: readonly Effect[] = [];
  breaks = false;

  step(input: Input): { effects: readonly Effect[]; changes: Changes } {
    if (this.breaks) throw new Error('broken on purpose');
    this.inputs.push(input);
    this.deadlines = this.deadlines.filter((at) => at > input.at);
    const answer: Effect[] = input.kind === 'command' ? [{ kind: 'answer', refusal: null }] : [];
    return { effects: [...this.effects, ...answer], changes: NOTHING };
  }

  nextDeadline(after = -Infinity): number | null {
    const later = this.deadlines.filter((at) => at > after);
    return later.length === 0 ? null : Math.min(...later);
  }
}

/** A layout that says given things at given moments. */
class ScriptedPort implements DevicePort {
  readonly name = 'scripted layout';
  readonly commands: { at: number; command: DeviceCommand }[] = [];
  hear: (event: DeviceEvent) => void = () => {};

  constructor(
    private script: { at: number; event: DeviceEvent }[],
    readonly paced = true,
  ) {}

  listen(hear: (event: DeviceEvent) => void): void {
    this.hear = hear;
  }
  command(at: number, command: DeviceCommand): void {
    this.commands.push({ at, command });
  }
  nextAt(): number | null {
    return this.script[0]?.at ?? null;
  }
  advance(to: number): void {
    const due = this.script.filter(({ at }) => at <= to);
    this.script = this.script.filter(({ at }) => at > to);
    for (const { event } of due) this.hear(event);
  }
  close(): Promise<void> {
    return Promise.resolve();
  }
}

function set(script: { at: number; event: DeviceEvent }[] = [], paced = true) {
  const engine = new RecordingEngine();
  const port = new ScriptedPort(script, paced);
  const failures: unknown[] = [];
  const observer = { stepped: () => {}, failed: (error: unknown) => failures.push(error) };
  const runner = new SessionRunner(engine, port, observer, wall, 0);
  return { engine, port, runner, failures };
}

const edge = (section: number): DeviceEvent => ({ kind: 'section', section, occupied: true });

test('device messages and deadlines reach the engine in the order of time, each at its moment', async () => {
  const { engine, runner } = set([
    { at: 30, event: edge(1) },
    { at: 50, event: edge(2) },
  ]);
  engine.deadlines = [40, 50];
  runner.start();
  await vi.advanceTimersByTimeAsync(60);
  expect(engine.inputs.map(({ at, kind }) => [at, kind])).toEqual([
    [30, 'device'],
    [40, 'deadline'],
    // The engine took its own deadline of 50 with the message of the same moment.
    [50, 'device'],
  ]);
});

test('however far a session is behind, messages reach the engine as of the moment in which they were said', async () => {
  const { engine, port, runner } = set([
    { at: 30, event: edge(1) },
    { at: 500, event: edge(2) },
    { at: 501, event: edge(3) },
  ]);
  engine.deadlines = [400];
  runner.setPace(60);
  runner.start();
  // The process gets no time for a while: all of it is due at once.
  await vi.advanceTimersByTimeAsync(20);
  expect(engine.inputs.map(({ at, kind }) => [at, kind])).toEqual([
    [30, 'device'],
    [400, 'deadline'],
    [500, 'device'],
    [501, 'device'],
  ]);
  expect(port.nextAt()).toBeNull();
});

test('work that an engine has put off gives way to what time brings', async () => {
  let busy = 0;
  const { engine, port } = set([{ at: 25, event: edge(1) }]);
  engine.deadlines = [35];
  let slices = 20;
  /** From 10 ms on it searches, 4 ms of the wall in each step. */
  const searching: RunnableEngine = {
    step: (input) => {
      if (input.at >= 10 && slices-- > 0) busy += 4;
      return engine.step(input);
    },
    nextDeadline: (after = -Infinity) =>
      slices > 0 && after < 10 ? 10 : engine.nextDeadline(after),
  };
  const now = (): number => performance.now() + busy;
  const observer = { stepped: () => {}, failed: () => {} };
  new SessionRunner(searching, port, observer, now, 0).start();
  await vi.advanceTimersByTimeAsync(60);
  const moments = engine.inputs.map(({ at, kind }) => `${at} ${kind}`);
  expect(moments.slice(0, 5)).toEqual([...Array(4).fill('10 deadline'), '25 device']);
  expect(moments.indexOf('35 deadline')).toBeLessThan(10);
  expect(moments.length).toBeGreaterThanOrEqual(20);
});

test('at a pace of 60 a minute passes in a second', async () => {
  const { engine, runner } = set();
  engine.deadlines = [60_000];
  runner.setPace(60);
  runner.start();
  await vi.advanceTimersByTimeAsync(999);
  expect(engine.inputs).toEqual([]);
  await vi.advanceTimersByTimeAsync(2);
  expect(engine.inputs).toEqual([{ at: 60_000, kind: 'deadline' }]);
});

test('a command carries the moment it is taken, and is answered', async () => {
  const { engine, runner } = set();
  runner.start();
  await vi.advanceTimersByTimeAsync(500);
  const answer = runner.give('Ann', { kind: 'pause' });
  await vi.advanceTimersByTimeAsync(1);
  expect(await answer).toBeNull();
  expect(engine.inputs[0]).toMatchObject({ kind: 'command', by: 'Ann' });
  expect(engine.inputs[0]!.at).toBeGreaterThanOrEqual(500);
});

test('effects are carried out after the step, at its moment', async () => {
  const { engine, port, runner } = set([{ at: 20, event: edge(1) }]);
  engine.effects = [{ kind: 'device', command: { kind: 'set-power', district: 0, on: false } }];
  runner.start();
  await vi.advanceTimersByTimeAsync(25);
  expect(port.commands).toEqual([
    { at: 20, command: { kind: 'set-power', district: 0, on: false } },
  ]);
});

test('a message that a real layout sends unasked is taken at once', async () => {
  const { engine, port, runner } = set([], false);
  runner.start();
  await vi.advanceTimersByTimeAsync(300);
  port.hear(edge(4));
  await vi.advanceTimersByTimeAsync(1);
  expect(engine.inputs).toEqual([{ at: 300, kind: 'device', event: edge(4) }]);
});

/** Runs an engine whose every step takes 20 ms of the wall, with a deadline each 10 ms; how far it lags behind its clock. */
async function lagOfSlowMachine(paced: boolean): Promise<number> {
  let busy = 0;
  const engine = new RecordingEngine();
  engine.deadlines = Array.from({ length: 1_000 }, (_, index) => index * 10);
  const slow: RunnableEngine = {
    step: (input) => {
      busy += 20;
      return engine.step(input);
    },
    nextDeadline: (after) => engine.nextDeadline(after),
  };
  const observer = { stepped: () => {}, failed: () => {} };
  const now = (): number => performance.now() + busy;
  const runner = new SessionRunner(slow, new ScriptedPort([], paced), observer, now, 0);
  runner.start();
  await vi.advanceTimersByTimeAsync(100);
  expect(engine.inputs.length).toBeGreaterThan(50);
  return runner.now() - engine.inputs.at(-1)!.at;
}

test('a machine that can’t keep up runs a simulated session slower, but never a real one', async () => {
  expect(await lagOfSlowMachine(true)).toBeLessThan(300);
  expect(await lagOfSlowMachine(false)).toBeGreaterThan(400);
});

test('a fault of the engine stops every train and refuses what comes after', async () => {
  const { engine, port, runner, failures } = set();
  runner.start();
  engine.breaks = true;
  const first = runner.give('Ann', { kind: 'pause' });
  await vi.advanceTimersByTimeAsync(1);
  expect(await first).toMatchObject({ code: 'engine-failed' });
  expect(port.commands.at(-1)?.command).toEqual({ kind: 'stop-all' });
  expect(failures).toHaveLength(1);
  expect(await runner.give('Ann', { kind: 'pause' })).toMatchObject({ code: 'session-closed' });
});

test('closing stops every train and answers what still waits', async () => {
  const { engine, runner } = set();
  runner.start();
  const waiting = runner.give('Ann', { kind: 'pause' });
  await runner.close();
  expect(engine.inputs.at(-1)).toMatchObject({ kind: 'command', command: { kind: 'stop-all' } });
  expect(await waiting).toMatchObject({ code: 'session-closed' });
});

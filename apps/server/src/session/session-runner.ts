import type { Changes, Command, DispatchPlan, Effect, Input, Refusal } from '@blockbell/railway';
import type { DevicePort } from '../devices/device-port.js';
import { Mailbox, type Letter } from './mailbox.js';
import { PacedClock, type WallClock } from './paced-clock.js';

/** The engine with its world and state, as far as the runner needs it. */
export interface RunnableEngine {
  step(input: Input): { readonly effects: readonly Effect[]; readonly changes: Changes };
  /** Physical ms at which it next wants to be woken, or next after a moment; null: never. */
  nextDeadline(after?: number): number | null;
}

export interface RunnerObserver {
  /** Every step, before its effects are carried out. */
  stepped(input: Input, effects: readonly Effect[], changes: Changes): void;
  /** The engine threw: a bug. Everything was told to stop and no further input will be taken. */
  failed(error: unknown): void;
}

/** Wall-clock ms of work before sockets and disk get their turn. */
const SLICE = 8;
/** Wall-clock ms by which simulated time may fall behind before it stops trying to catch up. */
const GREATEST_LAG = 250;
/** Longest sleep: far below what a timer can hold. */
const LONGEST_SLEEP = 60_000;

/**
 * Runs one engine against one layout: takes one input at a time from the mailbox, the device and the engine's own
 * deadlines, in the order of time, and carries the effects out after each. The only place that has a clock and timers.
 */
export class SessionRunner {
  private readonly mailbox = new Mailbox();
  private readonly clock: PacedClock;
  /** Physical time of the last input. */
  private reached: number;
  private wake: { cancel(): void } | null = null;
  private closed = false;

  constructor(
    private readonly engine: RunnableEngine,
    private readonly port: DevicePort,
    private readonly observer: RunnerObserver,
    private readonly wall: WallClock,
    startAt: number,
  ) {
    this.clock = new PacedClock(wall, startAt, 1);
    this.reached = startAt;
    port.listen((event) => this.post({ kind: 'device', event }));
  }

  /** Physical ms of the session now; never before the last input. */
  now(): number {
    return Math.max(this.reached, this.clock.now());
  }

  get pace(): number {
    return this.clock.pace;
  }

  /** Physical ms per wall-clock ms from now on. Only for a layout whose time can be set. */
  setPace(pace: number): void {
    this.clock.setPace(pace);
    this.sleep();
  }

  start(): void {
    this.sleep();
  }

  /** The engine was taken up again after a restart, and is told so before anything else, and whether the journal's tail was lost. */
  startAgain(tailLost: boolean): void {
    this.guarded(() => this.run({ at: this.reached, kind: 'started-again', tailLost }));
    this.sleep();
  }

  /** Gives a command to the engine; resolves with its refusal, or null when it was accepted. */
  give(by: string, command: Command): Promise<Refusal | null> {
    return new Promise((answer) => {
      if (this.closed) answer(OVER);
      else this.post({ kind: 'command', by, command, answer });
    });
  }

  /** Gives the engine a plan, in its turn. */
  givePlan(plan: DispatchPlan): void {
    this.post({ kind: 'plan', plan });
  }

  /** Stops every train, takes no further input and lets go of the layout. */
  async close(): Promise<void> {
    if (!this.closed) {
      this.guarded(() =>
        this.run({ at: this.now(), kind: 'command', by: 'server', command: { kind: 'stop-all' } }),
      );
      this.shut();
    }
    await this.port.close();
  }

  private post(letter: Letter): void {
    if (this.closed) {
      if (letter.kind === 'command') letter.answer(OVER);
      return;
    }
    this.mailbox.post(letter);
    this.wakeNow();
  }

  /** Works through what is due, for one slice. */
  private turn(): void {
    this.wake = null;
    const end = this.wall() + SLICE;
    while (!this.closed) {
      const target = this.clock.now();
      // What a simulated layout said was said just now: time stands until the engine knows.
      const standing = this.port.paced && this.mailbox.holdsMessages;
      const due = standing ? this.reached : this.nextDue(target);
      this.reached = Math.max(this.reached, due ?? target);
      if (!this.mailbox.isEmpty) this.takeLetter();
      else if (due === null) break;
      else this.takeTimed();
      if (this.wall() > end) {
        this.slipIfBehind();
        this.wakeNow();
        return;
      }
    }
    if (!this.closed) this.sleep();
  }

  private takeLetter(): void {
    const letter = this.mailbox.take()!;
    const at = this.reached;
    if (letter.kind === 'device') {
      this.run({ at, kind: 'device', event: letter.event });
      return;
    }
    if (letter.kind === 'plan') {
      this.run({ at, kind: 'plan', plan: letter.plan });
      return;
    }
    const { by, command, answer } = letter;
    let refusal: Refusal | null = BROKEN;
    try {
      refusal = answerIn(this.run({ at, kind: 'command', by, command }));
    } finally {
      answer(refusal);
    }
  }

  /** The device speaks before the engine looks at its deadlines of the same moment. */
  private takeTimed(): void {
    const device = this.port.nextAt();
    if (device !== null && device <= this.reached) this.port.advance(this.reached);
    else this.run({ at: this.reached, kind: 'deadline' });
  }

  private run(input: Input): readonly Effect[] {
    const { effects, changes } = this.engine.step(input);
    this.observer.stepped(input, effects, changes);
    for (const effect of effects)
      if (effect.kind === 'device') this.port.command(input.at, effect.command);
    return effects;
  }

  /**
   * The moment of what comes next, if it has come. What the engine has put off, such as the rest of a long search, gives way
   * to all that time has brought since: that may be what stops a train.
   */
  private nextDue(target: number): number | null {
    const next = this.nextTimed();
    if (next === null || next > target) return null;
    if (next > this.reached) return next;
    const later = this.nextTimed(this.reached);
    return later !== null && later <= target ? later : next;
  }

  /** When device or engine have something next, the engine after that moment. */
  private nextTimed(after?: number): number | null {
    const device = this.port.nextAt();
    const engine = this.engine.nextDeadline(after);
    if (device === null) return engine;
    return engine === null ? device : Math.min(device, engine);
  }

  /** A machine that can't keep the pace, or that slept, runs a slower session, never a session in haste. */
  private slipIfBehind(): void {
    if (!this.port.paced) return;
    const lag = (this.clock.now() - this.reached) / this.clock.pace;
    if (lag > GREATEST_LAG) this.clock.slipTo(this.reached);
  }

  private sleep(): void {
    if (this.closed) return;
    if (!this.mailbox.isEmpty) {
      this.wakeNow();
      return;
    }
    const next = this.nextTimed();
    this.wake?.cancel();
    const delay = next === null ? LONGEST_SLEEP : this.clock.wallUntil(next);
    const timer = setTimeout(() => this.guardedTurn(), Math.min(delay, LONGEST_SLEEP));
    this.wake = { cancel: () => clearTimeout(timer) };
  }

  private wakeNow(): void {
    this.wake?.cancel();
    const immediate = setImmediate(() => this.guardedTurn());
    this.wake = { cancel: () => clearImmediate(immediate) };
  }

  private guardedTurn(): void {
    this.guarded(() => this.turn());
  }

  private guarded(work: () => unknown): void {
    try {
      work();
    } catch (error) {
      this.shut();
      this.port.command(this.reached, { kind: 'stop-all' });
      this.observer.failed(error);
    }
  }

  private shut(): void {
    this.closed = true;
    this.wake?.cancel();
    this.wake = null;
    for (let letter = this.mailbox.take(); letter !== null; letter = this.mailbox.take())
      if (letter.kind === 'command') letter.answer(OVER);
  }
}

const OVER: Refusal = {
  code: 'session-closed',
  text: 'This session takes no more commands: it was closed. Load the page again or start a new session.',
};

const BROKEN: Refusal = {
  code: 'engine-failed',
  text: 'The command met a fault in the program and every train was told to stop. Start a new session.',
};

function answerIn(effects: readonly Effect[]): Refusal | null {
  const answer = effects.find((effect) => effect.kind === 'answer');
  return answer === undefined ? null : answer.refusal;
}

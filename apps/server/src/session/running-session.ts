import { Logger } from '@nestjs/common';
import type { RecordedMark, SessionLabels } from '@blockbell/contract';
import {
  createSession,
  fastNow,
  nextDeadline,
  refusal,
  step,
  type Changes,
  type Command,
  type DispatchPlan,
  type Effect,
  type EngineState,
  type Input,
  type Refusal,
  type World,
} from '@blockbell/railway';
import type { DevicePort } from '../devices/device-port.js';
import { Journal, type JournalSink } from '../storage/journal.js';
import type { WriteObserver } from '../storage/write-queue.js';
import type { RecordingObserver, RecordingSink } from '../recording/piece-writer.js';
import type { PlannedSession } from '../planning/session-planner.js';
import { SessionRecorder } from '../recording/session-recorder.js';
import { recordedMark } from '../recording/recorded-mark.js';
import { refuseUnknown } from './command-range.js';
import { Contest, type Seen } from './contest.js';
import { journalLine } from './journal-line.js';
import type { WallClock } from './paced-clock.js';
import { isServerAlarm, ServerAlarms } from './server-alarms.js';
import { SessionFeed, type FeedSource } from './session-feed.js';
import { SessionLog, type EarlierLine } from './session-log.js';
import { SessionRunner, type RunnerObserver } from './session-runner.js';

export interface RunningSessionParts {
  /** Number of the session in the database, and how often it was opened. */
  readonly id: number;
  readonly run: number;
  readonly name: string;
  /** As the timetable calls it. */
  readonly day: string;
  readonly world: World;
  /** The engine's memory as it was before the server was started again; null: the session begins. */
  readonly state: EngineState | null;
  /** The last lines of its log from before that, the oldest first. */
  readonly earlier: readonly EarlierLine[];
  /** More of what happened before may be missing than the moment between two writings. */
  readonly tailLost?: boolean;
  readonly port: DevicePort;
  readonly journal: JournalSink;
  readonly recordings: RecordingSink;
  readonly wall: WallClock;
  /** Who drives which train, by name. */
  readonly crews: () => SessionLabels['crews'];
  /** The session has come to its end; called once. */
  readonly ended: (state: EngineState) => void;
}

/** Alarms of the server. */
const JOURNAL = 'journal';
const ENGINE = 'engine';
const RECORDING = 'recording';

/** What the journal says when it can't be written, and may be done only once it can. */
const NEEDS_JOURNAL: ReadonlySet<Command['kind']> = new Set(['start', 'resume']);

/** One session that runs: the engine, its runner, its journal and what boards are told of it. */
export class RunningSession
  implements RunnerObserver, WriteObserver, RecordingObserver, FeedSource, PlannedSession
{
  readonly epoch: string;
  readonly world: World;
  readonly state: EngineState;
  readonly log: SessionLog;
  readonly alarms = new ServerAlarms();
  readonly feed: SessionFeed;
  readonly recorder: SessionRecorder;
  private readonly logger = new Logger(RunningSession.name);
  private readonly runner: SessionRunner;
  private readonly journal: Journal;
  private readonly contest: Contest;
  private hasEnded = false;

  constructor(private readonly parts: RunningSessionParts) {
    const { id, run, world, port, wall } = parts;
    this.epoch = `session-${id}.${run}`;
    this.world = world;
    this.state = parts.state ?? createSession(world);
    this.log = new SessionLog(parts.earlier);
    this.journal = new Journal(parts.journal, this, id, run);
    const engine = {
      step: (input: Input) => step(world, this.state, input),
      nextDeadline: (after?: number) => nextDeadline(this.state, after),
    };
    this.runner = new SessionRunner(engine, port, this, wall, this.state.now);
    this.feed = new SessionFeed(this);
    this.contest = new Contest(world, this.epoch, wall);
    this.recorder = new SessionRecorder({
      sink: parts.recordings,
      observer: this,
      session: id,
      run,
      wall,
    });
  }

  start(): void {
    const { state, tailLost = false } = this.parts;
    if (state === null && !tailLost) this.runner.start();
    else this.runner.startAgain(tailLost);
  }

  /** Stops every train and writes what is left of journal and recording; whether all of the journal could be written. */
  async close(): Promise<boolean> {
    await this.runner.close();
    const recorded = this.recorder.close(this.feed.takeDelta(), () => this.feed.snapshot());
    const complete = await this.journal.close();
    if (!(await recorded)) this.logger.error('the end of the recording could not be written');
    return complete;
  }

  now(): number {
    return this.runner.now();
  }

  labels(): SessionLabels {
    const { id, name, day, port, crews } = this.parts;
    return {
      id: `session-${id}`,
      name,
      day,
      device: port.name,
      pace: this.runner.pace,
      crews: crews(),
    };
  }

  get engineFailed(): boolean {
    return this.alarms.isStanding(ENGINE);
  }

  get journalFailing(): boolean {
    return this.alarms.isStanding(JOURNAL);
  }

  /** `seen`: the picture by which it was given. */
  async give(by: string, command: Command, seen?: Seen): Promise<Refusal | null> {
    const unknown = refuseUnknown(this.world, command);
    if (unknown !== null) return unknown;
    if (command.kind === 'acknowledge-alarm' && isServerAlarm(command.alarm))
      return this.acknowledge(command.alarm, by);
    if (this.journalFailing && letsTrainsDepart(command)) return JOURNAL_REFUSAL;
    return this.contest.give(by, command, seen, () => this.runner.give(by, command));
  }

  givePlan(plan: DispatchPlan): void {
    this.runner.givePlan(plan);
  }

  withoutPlans(why: string): void {
    this.say(`There are no plans from now on (${why}); trains are dispatched without one.`);
  }

  setPace(by: string, pace: number): Refusal | null {
    if (!this.parts.port.paced)
      return refusal(
        'real-layout',
        'Time on a real layout runs as it does; its pace can’t be set.',
      );
    this.runner.setPace(pace);
    this.say(`${by} set the pace of the simulated time to ×${pace}.`);
    return null;
  }

  /** A line in the log that the server adds of itself. */
  say(text: string): void {
    this.write('decision', this.now(), text, null);
    this.feed.noteOwn();
  }

  stepped(input: Input, effects: readonly Effect[], changes: Changes): void {
    this.journal.record(input, effects, this.state.revision);
    this.feed.note(changes);
    this.contest.note(input, effects, this.feed.revision);
    for (const effect of effects) {
      this.writeDown(input, effect);
      const mark = recordedMark(this.world, input, effect);
      if (mark !== null) this.mark(mark, input.at);
    }
    if (this.hasEnded || this.state.session.phase.kind !== 'ended') return;
    this.hasEnded = true;
    this.parts.ended(this.state);
  }

  failed(error: unknown): void {
    this.logger.error(error instanceof Error ? error.stack : String(error));
    this.raise(
      ENGINE,
      'The program met a fault of its own; every train was told to stop.',
      'Cut the power by hand if a train still moves, then start a new session.',
    );
  }

  failing(why: string): void {
    this.logger.error(`journal: ${why}`);
    this.raise(
      JOURNAL,
      `The journal can’t be written: ${why}. Departures are held.`,
      'Make room on the disk or mend the data folder; writing is tried every second.',
    );
    void this.runner.give('server', { kind: 'hold-departures', hold: true });
  }

  mended(): void {
    if (!this.alarms.clear(JOURNAL, this.now())) return;
    this.say('The journal is written again. Departures stay held until a person lets them go.');
  }

  recordingFailing(why: string): void {
    this.logger.error(`recording: ${why}`);
    this.raise(
      RECORDING,
      `What happens can’t be recorded: ${why}. Trains may run on.`,
      'Make room on the disk or mend the data folder; a stretch may be missing when the session is looked at later.',
    );
  }

  recordingMended(): void {
    if (this.alarms.clear(RECORDING, this.now())) this.say('What happens is recorded again.');
  }

  /** Something of the server's own failed that a dispatcher should know of. */
  raise(key: string, text: string, mend: string): void {
    const at = this.now();
    if (!this.alarms.raise(key, text, mend, { at, fast: this.fastAt(at) })) return;
    this.write('alarm', at, `Alarm: ${text}`, null);
    this.mark({ kind: 'alarm', text, train: null }, at);
    this.feed.noteOwn();
  }

  private acknowledge(alarm: number, by: string): Refusal | null {
    if (!this.alarms.acknowledge(alarm, by))
      return refusal('unknown-alarm', 'There is no such alarm any more.');
    this.feed.noteOwn();
    return null;
  }

  private writeDown(input: Input, effect: Effect): void {
    const line = journalLine(input, effect);
    if (line !== null) this.write(line.kind, input.at, line.text, line.train);
  }

  private write(
    kind: 'decision' | 'alarm' | 'refusal',
    at: number,
    text: string,
    train: number | null,
  ): void {
    const fast = this.fastAt(at);
    this.log.add(at, fast, text, train);
    this.journal.note(kind, at, fast, text, train);
  }

  private mark(mark: Pick<RecordedMark, 'kind' | 'text' | 'train'>, at: number): void {
    this.recorder.mark({ ...mark, at: Math.round(at), fast: this.fastAt(at) });
  }

  private fastAt(at: number): number {
    return Math.round(fastNow(this.state.session.clock, at));
  }
}

const letsTrainsDepart = (command: Command): boolean =>
  NEEDS_JOURNAL.has(command.kind) || (command.kind === 'hold-departures' && !command.hold);

const JOURNAL_REFUSAL = refusal(
  'journal-failing',
  'The journal can’t be written, so no train may depart. Mend the disk first; the alarm says more.',
);

import {
  Inject,
  Injectable,
  Logger,
  type OnModuleDestroy,
  type OnModuleInit,
} from '@nestjs/common';
import type { ScriptedFault, SnapshotMessage } from '@blockbell/contract';
import {
  refusal,
  storedPlaces,
  type Command,
  type EngineState,
  type Refusal,
} from '@blockbell/railway';
import { SETTINGS, type Settings } from '../config/settings.js';
import { scriptedFaults } from '../devices/simulated/scripted-faults.js';
import { SimulatedPort } from '../devices/simulated/simulated-port.js';
import type { SessionFiles } from '../files/check-files.js';
import { FileLibrary } from '../files/file-library.js';
import { JournalStore } from '../storage/journal-store.js';
import { KeptRecordings } from '../recording/kept-recordings.js';
import { SessionStore } from '../storage/session-store.js';
import type { StoredSession } from '../storage/stored-session.entity.js';
import { BoardClients } from './board-clients.js';
import type { Seen } from './contest.js';
import { CrewRoster } from './crew-roster.js';
import { DeltaStream } from './delta-stream.js';
import { RunningSession } from './running-session.js';

/** Phases in which a session may be put away for another: nothing runs that it was told to run. */
const MAY_BE_REPLACED: ReadonlySet<EngineState['session']['phase']['kind']> = new Set([
  'set-up',
  'line-up',
  'stopped',
  'powerless',
  'ended',
]);

const wall = (): number => performance.now();

export interface Health {
  readonly session: string;
  readonly engine: 'running' | 'failed';
  readonly journal: 'written' | 'failing';
}

interface Current {
  readonly stored: StoredSession;
  readonly files: SessionFiles;
  readonly running: RunningSession;
}

/** The session that runs, of all that are stored. */
@Injectable()
export class SessionService implements OnModuleInit, OnModuleDestroy {
  private readonly stream = new DeltaStream(wall);
  /** The boards that look on, whichever session runs. */
  readonly boards = new BoardClients(this.stream);
  private readonly logger = new Logger(SessionService.name);
  private current: Current | null = null;
  private replacing = false;

  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    @Inject(FileLibrary) private readonly library: FileLibrary,
    @Inject(SessionStore) private readonly sessions: SessionStore,
    @Inject(JournalStore) private readonly journal: JournalStore,
    @Inject(CrewRoster) private readonly crews: CrewRoster,
    @Inject(KeptRecordings) private readonly recordings: KeptRecordings,
  ) {}

  /** Takes up the unfinished session, or begins the first one. */
  async onModuleInit(): Promise<void> {
    const unfinished = await this.sessions.unfinished();
    const files = unfinished === null ? null : await this.library.filesOf(unfinished);
    if (unfinished !== null && files !== null) {
      await this.open(unfinished, files, this.faultsOf(files));
      this.running.say(AFTER_RESTART);
      return;
    }
    if (unfinished !== null) {
      this.logger.warn(`session-${unfinished.id} can't go on: its files are no longer accepted`);
      await this.sessions.ended(unfinished.id, 'its files are no longer accepted');
    }
    await this.begin(await this.library.example(this.settings.example));
  }

  async onModuleDestroy(): Promise<void> {
    this.stream.stop();
    if (this.current === null) return;
    if (!(await this.current.running.close()))
      this.logger.error('the end of the journal could not be written');
  }

  /** The answer to a command: null when it was accepted. */
  give(by: string, command: Command, seen?: Seen): Promise<Refusal | null> {
    return this.running.give(by, command, seen);
  }

  /** A line in the log of the session. */
  say(text: string): void {
    this.running.say(text);
  }

  /** Tells a train in hand to stop, as nobody is there any more who drives it. */
  async stopUndriven(by: string, train: number): Promise<void> {
    const speed = this.running.state.trains[train]?.handSpeed ?? 0;
    if (speed > 0) await this.running.give(by, { kind: 'drive', train, speed: 0 });
  }

  setPace(by: string, pace: number): Promise<Refusal | null> {
    return Promise.resolve(this.running.setPace(by, pace));
  }

  snapshot(): SnapshotMessage {
    return this.running.feed.peek();
  }

  files(): SessionFiles {
    return this.now.files;
  }

  /** What a health check wants to know. */
  health(): Health {
    const { epoch, engineFailed, journalFailing } = this.running;
    return {
      session: epoch,
      engine: engineFailed ? 'failed' : 'running',
      journal: journalFailing ? 'failing' : 'written',
    };
  }

  /** Puts the present session away and begins one on `files`. */
  async replace(by: string, files: SessionFiles): Promise<Refusal | null> {
    const { stored, running } = this.now;
    if (this.replacing)
      return refusal('session-changing', 'Another session is being begun just now; look again.');
    if (!MAY_BE_REPLACED.has(running.state.session.phase.kind))
      return refusal(
        'session-running',
        'The present session runs. End it, or stop all trains, first.',
      );
    const scripted = scriptedFaults(this.settings.faults, files.world);
    if (!scripted.ok) return scripted.refusal;
    this.replacing = true;
    try {
      this.stream.remove(running.recorder);
      await running.close();
      await this.sessions.ended(stored.id, `put away by ${by} for another session`);
      await this.begin(files);
      this.running.say(`${by} began this session.`);
      return null;
    } finally {
      this.replacing = false;
    }
  }

  private async begin(files: SessionFiles): Promise<void> {
    const faults = this.faultsOf(files);
    const { layout, stock, timetable } = files.hashes;
    const stored = await this.sessions.create({
      name: files.timetable.name,
      layoutHash: layout,
      stockHash: stock,
      timetableHash: timetable,
    });
    await this.open(stored, files, faults);
  }

  /** What is scripted to go wrong; throws when that doesn't fit the files. */
  private faultsOf({ world }: SessionFiles): readonly ScriptedFault[] {
    const scripted = scriptedFaults(this.settings.faults, world);
    if (!scripted.ok) throw new Error(scripted.refusal.text);
    return scripted.faults;
  }

  private async open(
    stored: StoredSession,
    files: SessionFiles,
    faults: readonly ScriptedFault[],
  ): Promise<void> {
    const { world } = files;
    const run = await this.sessions.opened(stored);
    await this.crews.open(stored.id);
    const running = new RunningSession({
      id: stored.id,
      run,
      name: stored.name,
      day: files.timetable.day,
      world,
      port: new SimulatedPort(world, stored.id * 1000 + run, faults),
      journal: this.journal,
      recordings: this.recordings,
      wall,
      crews: () => this.crews.rows(),
      ended: (state) => void this.finish(stored, running, state),
    });
    this.current = { stored, files, running };
    running.start();
    this.boards.beginAnew();
    this.stream.add(running.recorder);
    this.stream.follow(running.feed);
  }

  /** Keeps where the trains stand as the next line-up. */
  private async finish(
    stored: StoredSession,
    running: RunningSession,
    state: EngineState,
  ): Promise<void> {
    try {
      await this.sessions.saveLineUp(stored, storedPlaces({ world: running.world, state }));
      await this.sessions.ended(stored.id, 'ended by the dispatcher');
      running.say('The places of all trains are saved as the next line-up.');
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      this.logger.error(`line-up: ${why}`);
      running.raise(
        'line-up',
        `The places of the trains could not be saved: ${why}.`,
        'Write down where the trains stand before anything is moved.',
      );
    }
  }

  private get running(): RunningSession {
    return this.now.running;
  }

  private get now(): Current {
    if (this.current === null) throw new Error('no session was opened yet');
    return this.current;
  }
}

const AFTER_RESTART =
  'The server was started again during this session. Nothing is taken over from before: every train is expected where ' +
  'the timetable stores it, and its place must be confirmed before anything moves.';

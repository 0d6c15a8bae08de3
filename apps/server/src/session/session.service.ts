import {
  Inject,
  Injectable,
  Logger,
  type OnModuleDestroy,
  type OnModuleInit,
} from '@nestjs/common';
import type { ScriptedFault, SnapshotMessage } from '@blockbell/contract';
import { engineVersion, seedOf, SessionReplay } from '@blockbell/journal';
import {
  compileWorld,
  contentHash,
  refusal,
  storedPlaces,
  type Command,
  type EngineState,
  type Refusal,
  type StoredPlaceFile,
} from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import { SETTINGS, type Settings } from '../config/settings.js';
import { scriptedFaults } from '../devices/simulated/scripted-faults.js';
import { SimulatedPort } from '../devices/simulated/simulated-port.js';
import type { SessionFiles } from '../files/check-files.js';
import { FileLibrary } from '../files/file-library.js';
import { KEEPERS, type MakeKeeper } from '../follower/keepers.js';
import type { SnapshotKeeper } from '../follower/snapshot-keeper.js';
import { PLANNERS, type MakePlanner } from '../planning/planners.js';
import type { SessionPlanner } from '../planning/session-planner.js';
import { JournalStore } from '../storage/journal-store.js';
import { KeptRecordings } from '../recording/kept-recordings.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { RunStore } from '../storage/run-store.js';
import { SessionStore } from '../storage/session-store.js';
import { foretoldSession, type ForetoldSession } from '../what-if/foretold-session.js';
import type { StoredSession } from '../storage/stored-session.entity.js';
import { BoardClients } from './board-clients.js';
import type { Seen } from './contest.js';
import { CrewRoster } from './crew-roster.js';
import { DeltaStream } from './delta-stream.js';
import { FollowOn } from './follow-on.js';
import { RunningSession } from './running-session.js';
import { LOG_KEPT } from './session-log.js';
import { takeUp } from './take-up.js';

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
  readonly run: number;
  readonly files: SessionFiles;
  readonly running: RunningSession;
  readonly keeper: SnapshotKeeper | null;
  readonly planner: SessionPlanner | null;
}

/** What a session is opened with. */
interface Opening {
  readonly replay: SessionReplay;
  readonly seed: number;
  readonly faults: readonly Fault[];
  /** The last batch that holds of the run before; null: the session begins. */
  readonly takenUpTo: number | null;
  /** More of what happened may be missing than the moment between two writings. */
  readonly tailLost: boolean;
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
    @Inject(RunStore) private readonly runs: RunStore,
    @Inject(FollowOn) private readonly followOn: FollowOn,
    @Inject(KEEPERS) private readonly keepers: MakeKeeper,
    @Inject(PLANNERS) private readonly planners: MakePlanner,
  ) {}

  /** Takes up the unfinished session, or begins the first one. */
  async onModuleInit(): Promise<void> {
    const unfinished = await this.sessions.unfinished();
    const files = unfinished === null ? null : await this.library.filesOf(unfinished);
    if (unfinished !== null && files !== null) {
      await this.takeUp(unfinished, files);
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
    await this.close(this.current);
  }

  /** Closes a session for good or until the next start, and keeps what its replay must come to. */
  private async close({ stored, run, running, keeper, planner }: Current): Promise<void> {
    await planner?.close();
    const complete = await running.close();
    if (complete) await this.runs.closed(stored.id, run, contentHash(running.state));
    else this.logger.error('the end of the journal could not be written');
    await keeper?.close();
  }

  /**
   * Goes on with a session that a server left unfinished: rebuilt from its journal and held. One that can't be rebuilt
   * begins again as another session, with a line-up.
   */
  private async takeUp(stored: StoredSession, files: SessionFiles): Promise<void> {
    const { layout, stock, timetable } = files;
    const runs = await this.runs.of(stored.id);
    const snapshots = await this.runs.snapshotsOf(stored.id);
    const batchesOf = (run: number, after: number) =>
      this.journal.batchesAfter(stored.id, run, after);
    const taken = await takeUp({ runs, snapshots, batchesOf }, engineVersion(), () =>
      compileWorld(layout, stock, timetable),
    );
    if (!taken.ok) return this.beginAgain(stored, files, snapshots[0]?.places ?? null, taken.why);
    if (taken.replay.state.session.phase.kind === 'ended') {
      await this.sessions.saveLineUp(stored, storedPlaces(taken.replay));
      await this.sessions.ended(stored.id, 'ended by the dispatcher');
      return this.begin(files);
    }
    const opening = { ...taken, tailLost: taken.lost !== null };
    await this.open(stored, { ...files, world: taken.replay.world }, opening);
    if (taken.lost !== null) {
      this.logger.warn(taken.lost);
      this.running.say(taken.lost);
    }
  }

  /** A line-up in place of a session that can't be rebuilt: trains are expected where they were last known to stand. */
  private async beginAgain(
    stored: StoredSession,
    files: SessionFiles,
    places: string | null,
    why: string,
  ): Promise<void> {
    await this.sessions.ended(stored.id, `not taken up after a restart: ${why}`);
    const known = places === null ? null : await this.filesStanding(stored, places);
    await this.begin(known ?? files, true);
    const where = known === null ? 'the timetable stores it' : 'a snapshot last had it';
    const text =
      `The server was started again during session ${stored.id}, which could not be taken up: ${why}. This is another ` +
      `session: every train is expected where ${where}, and its place must be confirmed before anything moves.`;
    this.logger.warn(text);
    this.running.say(text);
  }

  /** Files with the trains in these places; null when their work can't begin there. */
  private async filesStanding(stored: StoredSession, places: string): Promise<SessionFiles | null> {
    try {
      return await this.followOn.filesWith(stored, JSON.parse(places) as StoredPlaceFile[]);
    } catch (error) {
      if (error instanceof RefusalException) return null;
      throw error;
    }
  }

  /** The answer to a command: null when it was accepted. */
  give(by: string, command: Command, seen?: Seen): Promise<Refusal | null> {
    return this.running.give(by, command, seen);
  }

  /** World and state of the session; only to be read. */
  seen(): Pick<RunningSession, 'world' | 'state'> {
    return this.running;
  }

  /** A line in the log of the session. */
  say(text: string): void {
    this.running.say(text);
  }

  /** Tells a train in hand to stop, as nobody is there any more who drives it. */
  async stopUndriven(by: string, train: number, why: string): Promise<void> {
    const { state, world } = this.running;
    if ((state.trains[train]?.handSpeed ?? 0) === 0) return;
    await this.running.give(by, { kind: 'drive', train, speed: 0 });
    this.running.say(`${world.stock.trains[train]?.file.label} was told to stop: ${why}.`);
  }

  setPace(by: string, pace: number): Promise<Refusal | null> {
    return Promise.resolve(this.running.setPace(by, pace));
  }

  snapshot(): SnapshotMessage {
    return this.running.feed.peek();
  }

  /** Id of the session that runs, as boards are told. */
  get id(): string {
    return `session-${this.now.stored.id}`;
  }

  files(): SessionFiles {
    return this.now.files;
  }

  /** The session, for whoever foretells what a command would change. */
  foretold(): ForetoldSession {
    return foretoldSession(this.now, this.settings.planning);
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
    const now = this.now;
    const { stored, running } = now;
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
      await this.close(now);
      await this.sessions.ended(stored.id, `put away by ${by} for another session`);
      await this.begin(files);
      this.running.say(`${by} began this session.`);
      return null;
    } finally {
      this.replacing = false;
    }
  }

  /** `tailLost`: trains may stand anywhere, for what happened before could not be taken up. */
  private async begin(files: SessionFiles, tailLost = false): Promise<void> {
    const faults = this.faultsOf(files);
    const { layout, stock, timetable } = files.hashes;
    const stored = await this.sessions.create({
      name: files.timetable.name,
      layoutHash: layout,
      stockHash: stock,
      timetableHash: timetable,
    });
    const opening = { ...this.fresh(stored, files, faults), tailLost };
    await this.open(stored, files, opening);
  }

  /** A session that nothing has happened in yet. */
  private fresh(
    { id }: StoredSession,
    { world }: SessionFiles,
    faults: readonly ScriptedFault[],
  ): Omit<Opening, 'tailLost'> {
    const seed = seedOf(id);
    return { replay: SessionReplay.begin(world, seed, faults), seed, faults, takenUpTo: null };
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
    { replay, seed, faults, takenUpTo, tailLost }: Opening,
  ): Promise<void> {
    const { world, layout, stock, timetable } = files;
    const run = await this.sessions.opened(stored);
    const engine = engineVersion();
    await this.runs.opened({
      session: stored.id,
      run,
      engine,
      takenUpTo: takenUpTo ?? -1,
      faults: JSON.stringify(faults),
    });
    await this.crews.open(stored.id);
    const saved = takenUpTo === null ? null : replay.save();
    const earlier = takenUpTo === null ? [] : await this.journal.lastEntriesOf(stored.id, LOG_KEPT);
    const running = new RunningSession({
      id: stored.id,
      run,
      name: stored.name,
      day: timetable.day,
      world,
      state: takenUpTo === null ? null : replay.state,
      tailLost,
      earlier: earlier.map(({ at, fast, text, train }) => ({ at, fast, text, train })),
      port: new SimulatedPort(replay.simulated),
      journal: {
        write: async (rows) => {
          await this.journal.write(rows);
          keeper?.follow(rows.batch);
        },
      },
      recordings: this.recordings,
      wall,
      crews: () => this.crews.rows(),
      ended: (state) => void this.finish(stored, running, state),
    });
    const start = { layout, stock, timetable, session: stored.id, run, seed, faults, saved };
    const keeper = this.keepers(start, engine, this.runs, {
      notTheSame: (batch) =>
        running.raise(
          'replay',
          `The session is not the same when it is run again from its journal (batch ${batch}): a fault of the program.`,
          'Trains may run on. Keep the data folder and report it; after a restart the session may be taken up earlier.',
        ),
      followerLost: (why) =>
        running.say(
          `The thread that checks the journal meanwhile has ended: ${why}. The session goes on; no snapshots are kept ` +
            'any more, so that a restart takes longer.',
        ),
      snapshotLost: (why) =>
        running.say(`A snapshot could not be kept: ${why}. A restart takes a little longer.`),
    });
    const planner = this.settings.planning
      ? this.planners({ layout, stock, timetable }, running)
      : null;
    this.current = { stored, run, files, running, keeper, planner };
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

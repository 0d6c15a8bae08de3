import {
  projectAll,
  projectChanges,
  type DeltaMessage,
  type Rows,
  type SessionLabels,
  type SnapshotMessage,
} from '@blockbell/contract';
import type { Changes, EngineState, World } from '@blockbell/railway';
import { RowMemory } from './row-memory.js';
import type { ServerAlarms } from './server-alarms.js';
import type { SessionLog } from './session-log.js';

/** What the feed reads; it changes none of it. */
export interface FeedSource {
  readonly epoch: string;
  readonly world: World;
  readonly state: EngineState;
  readonly log: SessionLog;
  readonly alarms: ServerAlarms;
  labels(): SessionLabels;
  /** Physical ms of the session. */
  now(): number;
}

/**
 * Collects what changes in a session and hands it out as deltas. The number of a message counts the engine's steps and the
 * server's own changes of what a board sees; a delta applies to the message before it and no other.
 */
export class SessionFeed {
  private pending = noChanges();
  /** Changes that no engine step made: pace, alarms of the server, its lines in the log. */
  private ownChanges = 0;
  private sent: number;
  private readonly memory: RowMemory;

  constructor(private readonly source: FeedSource) {
    this.memory = new RowMemory(this.allRows());
    this.sent = this.revision;
  }

  note(changes: Changes): void {
    const { pending } = this;
    pending.session ||= changes.session;
    pending.lineUp ||= changes.lineUp;
    for (const set of ['sections', 'elements', 'trains', 'signals', 'alarms'] as const)
      for (const index of changes[set]) pending[set].add(index);
  }

  /** Something outside the engine changed that a board sees. */
  noteOwn(): void {
    this.ownChanges++;
    this.pending.session = true;
  }

  /** Sentences about waiting and lateness grow old without any event: looks at every train again. */
  noteAllTrains(): void {
    for (const train of this.source.state.trains.keys()) this.pending.trains.add(train);
  }

  /** What changed since the last delta; null when no board would see a difference. */
  takeDelta(): DeltaMessage | null {
    const rows = this.memory.keepNews(this.changedRows());
    this.pending = noChanges();
    if (Object.keys(rows).length === 0) return null;
    const { epoch } = this.source;
    const delta = { epoch, from: this.sent, revision: this.revision, now: this.source.now(), rows };
    this.sent = this.revision;
    return delta;
  }

  /** Everything as of the last delta: to be called right after {@link takeDelta}. */
  snapshot(): SnapshotMessage {
    const { epoch } = this.source;
    return { epoch, revision: this.sent, now: this.source.now(), rows: this.allRows() };
  }

  /** Everything now, for one who asks once and takes no deltas. */
  peek(): SnapshotMessage {
    return { ...this.snapshot(), revision: this.revision };
  }

  /** Counts what a board may see change; the number of a message made now. */
  get revision(): number {
    return this.source.state.revision + this.ownChanges;
  }

  private allRows(): Rows {
    const { world, state, log } = this.source;
    const rows = projectAll(world, state, this.source.labels(), log.lines());
    return { ...rows, alarms: [...(rows.alarms ?? []), ...this.source.alarms.rows()] };
  }

  private changedRows(): Rows {
    const { world, state, log } = this.source;
    const lines = log.takeUnsent();
    const rows = projectChanges(world, state, this.source.labels(), this.pending, lines);
    if (!this.pending.session) return rows;
    return { ...rows, alarms: [...(rows.alarms ?? []), ...this.source.alarms.rows()] };
  }
}

const noChanges = (): Changes => ({
  session: false,
  lineUp: false,
  sections: new Set(),
  elements: new Set(),
  trains: new Set(),
  signals: new Set(),
  alarms: new Set(),
});

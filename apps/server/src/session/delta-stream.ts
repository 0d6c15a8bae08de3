import type { DeltaMessage, SnapshotMessage } from '@blockbell/contract';
import type { WallClock } from './paced-clock.js';

/** Where messages come from: the feed of the session that runs now. */
export interface MessageSource {
  takeDelta(): DeltaMessage | null;
  /** As of the last delta taken. */
  snapshot(): SnapshotMessage;
  noteAllTrains(): void;
}

/** What is told of every look at the session. */
export interface DeltaListener {
  /** `delta`: what changed since the look before, null when nothing did. `snapshot`: everything as of now, made when asked for. */
  tick(delta: DeltaMessage | null, snapshot: () => SnapshotMessage): void;
}

/** Wall-clock ms between deltas. */
export const DELTA_INTERVAL = 100;
/** Wall-clock ms after which sentences about waiting are looked at again. */
export const REFRESH_INTERVAL = 5_000;

/** Looks at the session ten times a second at most, and tells all listeners the same: every board and the recording. */
export class DeltaStream {
  private readonly listeners = new Set<DeltaListener>();
  private source: MessageSource | null = null;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private refreshedAt: number;
  private lastAt: number;

  constructor(private readonly wall: WallClock) {
    this.refreshedAt = wall();
    this.lastAt = this.refreshedAt - DELTA_INTERVAL;
  }

  /** From now on messages come from `source`. */
  follow(source: MessageSource | null): void {
    this.source = source;
    this.schedule();
  }

  add(listener: DeltaListener): void {
    this.listeners.add(listener);
    this.schedule();
  }

  remove(listener: DeltaListener): void {
    this.listeners.delete(listener);
    if (this.listeners.size === 0) this.stop();
  }

  stop(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
  }

  private look(): void {
    this.timer = null;
    this.lastAt = this.wall();
    const { source } = this;
    if (source === null) return;
    this.refreshNowAndThen(source);
    const delta = source.takeDelta();
    let made: SnapshotMessage | null = null;
    const snapshot = (): SnapshotMessage => (made ??= source.snapshot());
    for (const listener of this.listeners) listener.tick(delta, snapshot);
    this.schedule();
  }

  private refreshNowAndThen(source: MessageSource): void {
    if (this.lastAt - this.refreshedAt < REFRESH_INTERVAL) return;
    this.refreshedAt = this.lastAt;
    source.noteAllTrains();
  }

  /** The next look, while anybody listens. */
  private schedule(): void {
    if (this.timer !== null || this.listeners.size === 0 || this.source === null) return;
    const delay = Math.max(0, this.lastAt + DELTA_INTERVAL - this.wall());
    this.timer = setTimeout(() => this.look(), delay);
  }
}

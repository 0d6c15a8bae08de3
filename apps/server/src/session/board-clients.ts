import type { DeltaMessage, SnapshotMessage } from '@blockbell/contract';
import type { WallClock } from './paced-clock.js';

/** One board's connection. */
export interface BoardClient {
  sendSnapshot(message: SnapshotMessage): void;
  sendDelta(message: DeltaMessage): void;
  /** How many messages wait to leave for it. */
  backlog(): number;
}

/** Where messages come from: the feed of the session that runs now. */
export interface MessageSource {
  takeDelta(): DeltaMessage | null;
  /** As of the last delta taken. */
  snapshot(): SnapshotMessage;
  noteAllTrains(): void;
}

/** Wall-clock ms between deltas. */
export const DELTA_INTERVAL = 100;
/** Wall-clock ms after which sentences about waiting are looked at again. */
export const REFRESH_INTERVAL = 5_000;
/** Messages a connection may owe before it gets nothing but, once it has caught up, a snapshot. */
const GREATEST_BACKLOG = 10;

/** Tells every board what changed, ten times a second at most, and a board that can't keep up less often. */
export class BoardClients {
  /** Whether it waits for a snapshot, by client. */
  private readonly clients = new Map<BoardClient, boolean>();
  private source: MessageSource | null = null;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private refreshedAt: number;
  private lastAt: number;

  constructor(private readonly wall: WallClock) {
    this.refreshedAt = wall();
    this.lastAt = this.refreshedAt - DELTA_INTERVAL;
  }

  /** From now on messages come from `source`; every board gets its snapshot. */
  follow(source: MessageSource | null): void {
    this.source = source;
    for (const client of this.clients.keys()) this.clients.set(client, true);
    this.schedule();
  }

  add(client: BoardClient): void {
    this.clients.set(client, true);
    this.schedule();
  }

  remove(client: BoardClient): void {
    this.clients.delete(client);
    if (this.clients.size === 0) this.stop();
  }

  /** The board missed something and asks for everything. */
  resync(client: BoardClient): void {
    if (this.clients.has(client)) this.clients.set(client, true);
  }

  stop(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
  }

  /** Sends what is due now. */
  private tell(): void {
    this.timer = null;
    this.lastAt = this.wall();
    if (this.source === null) return;
    this.refreshNowAndThen(this.source);
    const delta = this.source.takeDelta();
    let snapshot: SnapshotMessage | null = null;
    for (const [client, waits] of this.clients) {
      const backlog = client.backlog();
      if (waits && backlog === 0) {
        snapshot ??= this.source.snapshot();
        client.sendSnapshot(snapshot);
        this.clients.set(client, false);
      } else if (!waits && backlog > GREATEST_BACKLOG) this.clients.set(client, true);
      else if (!waits && delta !== null) client.sendDelta(delta);
    }
    this.schedule();
  }

  private refreshNowAndThen(source: MessageSource): void {
    if (this.lastAt - this.refreshedAt < REFRESH_INTERVAL) return;
    this.refreshedAt = this.lastAt;
    source.noteAllTrains();
  }

  /** The next telling, while anybody listens. */
  private schedule(): void {
    if (this.timer !== null || this.clients.size === 0 || this.source === null) return;
    const delay = Math.max(0, this.lastAt + DELTA_INTERVAL - this.wall());
    this.timer = setTimeout(() => this.tell(), delay);
  }
}

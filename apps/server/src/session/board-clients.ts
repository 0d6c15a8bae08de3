import type { DeltaMessage, SnapshotMessage } from '@blockbell/contract';
import type { DeltaListener, DeltaStream } from './delta-stream.js';

/** One board's connection. */
export interface BoardClient {
  sendSnapshot(message: SnapshotMessage): void;
  sendDelta(message: DeltaMessage): void;
  /** How many messages wait to leave for it. */
  backlog(): number;
}

/** Messages a connection may owe before it gets nothing but, once it has caught up, a snapshot. */
const GREATEST_BACKLOG = 10;

/** Tells every board what changed, and a board that can't keep up less often. */
export class BoardClients implements DeltaListener {
  /** Whether it waits for a snapshot, by client. */
  private readonly clients = new Map<BoardClient, boolean>();

  constructor(private readonly stream: DeltaStream) {}

  /** Another session runs now: every board gets its snapshot. */
  beginAnew(): void {
    for (const client of this.clients.keys()) this.clients.set(client, true);
  }

  add(client: BoardClient): void {
    this.clients.set(client, true);
    this.stream.add(this);
  }

  remove(client: BoardClient): void {
    this.clients.delete(client);
    if (this.clients.size === 0) this.stream.remove(this);
  }

  /** The board missed something and asks for everything. */
  resync(client: BoardClient): void {
    if (this.clients.has(client)) this.clients.set(client, true);
  }

  tick(delta: DeltaMessage | null, snapshot: () => SnapshotMessage): void {
    for (const [client, waits] of this.clients) {
      const backlog = client.backlog();
      if (waits && backlog === 0) {
        client.sendSnapshot(snapshot());
        this.clients.set(client, false);
      } else if (!waits && backlog > GREATEST_BACKLOG) this.clients.set(client, true);
      else if (!waits && delta !== null) client.sendDelta(delta);
    }
  }
}

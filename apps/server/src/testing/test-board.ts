import {
  deltaMessage,
  EVENTS,
  snapshotMessage,
  type DeltaMessage,
  type SnapshotMessage,
} from '@blockbell/contract';
import type { Socket } from 'socket.io-client';
import { vi } from 'vitest';
import { applyDelta } from './merge-rows.js';

/** A board that keeps its picture from what it is sent. */
export class TestBoard {
  picture: SnapshotMessage | null = null;
  snapshots = 0;
  deltas = 0;

  constructor(readonly socket: Socket) {
    socket.on(EVENTS.snapshot, (message: SnapshotMessage) => {
      this.picture = snapshotMessage.parse(message);
      this.snapshots++;
    });
    socket.on(EVENTS.delta, (message: DeltaMessage) => {
      this.picture = applyDelta(this.picture!, deltaMessage.parse(message));
      this.deltas++;
    });
  }

  ask(event: string, message?: unknown): Promise<unknown> {
    return this.socket.timeout(5_000).emitWithAck(event, message);
  }

  async until(wanted: (board: TestBoard) => boolean): Promise<void> {
    await vi.waitUntil(() => wanted(this), { timeout: 10_000, interval: 20 });
  }
}

import type { DeltaMessage, SnapshotMessage } from '@blockbell/contract';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { BoardClients, type BoardClient } from './board-clients.js';
import { DELTA_INTERVAL, DeltaStream } from './delta-stream.js';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

/** Counts revisions; a delta covers all since the one before. */
class CountingSource {
  revision = 0;
  sent = 0;
  refreshes = 0;

  takeDelta(): DeltaMessage | null {
    if (this.sent === this.revision) return null;
    const delta = { epoch: 'e', from: this.sent, revision: this.revision, now: 0, rows: {} };
    this.sent = this.revision;
    return delta;
  }
  snapshot(): SnapshotMessage {
    return { epoch: 'e', revision: this.sent, now: 0, rows: {} };
  }
  noteAllTrains(): void {
    this.refreshes++;
  }
}

class RecordingClient implements BoardClient {
  readonly got: string[] = [];
  owed = 0;

  sendSnapshot(message: SnapshotMessage): void {
    this.got.push(`snapshot ${message.revision}`);
  }
  sendDelta(message: DeltaMessage): void {
    this.got.push(`delta ${message.from}-${message.revision}`);
  }
  backlog(): number {
    return this.owed;
  }
}

function watched() {
  const source = new CountingSource();
  const stream = new DeltaStream(() => performance.now());
  const boards = new BoardClients(stream);
  const client = new RecordingClient();
  stream.follow(source);
  boards.add(client);
  return { source, stream, boards, client };
}

test('a board gets a snapshot, then ten deltas a second at most that leave nothing out', async () => {
  const { source, client } = watched();
  await vi.advanceTimersByTimeAsync(1);
  expect(client.got).toEqual(['snapshot 0']);
  for (let step = 0; step < 1_000; step++) {
    source.revision++;
    await vi.advanceTimersByTimeAsync(1);
  }
  const deltas = client.got.slice(1);
  expect(deltas.length).toBeGreaterThanOrEqual(9);
  expect(deltas.length).toBeLessThanOrEqual(1_000 / DELTA_INTERVAL);
  let at = 0;
  for (const delta of deltas) {
    const [from, to] = delta.replace('delta ', '').split('-').map(Number);
    expect(from).toBe(at);
    at = to!;
  }
});

test('nothing is sent while nothing changes', async () => {
  const { client } = watched();
  await vi.advanceTimersByTimeAsync(3_000);
  expect(client.got).toEqual(['snapshot 0']);
});

test('a board that can’t keep up gets a snapshot once it has caught up, and no queue', async () => {
  const { source, client } = watched();
  await vi.advanceTimersByTimeAsync(1);
  client.owed = 11;
  for (let step = 0; step < 50; step++) {
    source.revision++;
    await vi.advanceTimersByTimeAsync(DELTA_INTERVAL);
  }
  expect(client.got).toEqual(['snapshot 0']);
  client.owed = 0;
  source.revision++;
  await vi.advanceTimersByTimeAsync(DELTA_INTERVAL);
  expect(client.got).toEqual(['snapshot 0', `snapshot ${source.revision}`]);
});

test('one slow board does not keep the others from their deltas', async () => {
  const { source, boards, client } = watched();
  const quick = new RecordingClient();
  boards.add(quick);
  await vi.advanceTimersByTimeAsync(1);
  client.owed = 11;
  source.revision = 5;
  await vi.advanceTimersByTimeAsync(DELTA_INTERVAL);
  expect(quick.got).toEqual(['snapshot 0', 'delta 0-5']);
});

test('a board that asks anew, and every board when another session runs, gets a snapshot', async () => {
  const { source, stream, boards, client } = watched();
  await vi.advanceTimersByTimeAsync(1);
  source.revision = 3;
  boards.resync(client);
  await vi.advanceTimersByTimeAsync(DELTA_INTERVAL);
  expect(client.got.at(-1)).toBe('snapshot 3');
  const other = new CountingSource();
  other.revision = other.sent = 40;
  boards.beginAnew();
  stream.follow(other);
  await vi.advanceTimersByTimeAsync(DELTA_INTERVAL);
  expect(client.got.at(-1)).toBe('snapshot 40');
});

test('sentences that age are looked at again every few seconds, while somebody listens', async () => {
  const { source, boards, client } = watched();
  await vi.advanceTimersByTimeAsync(11_000);
  expect(source.refreshes).toBe(2);
  boards.remove(client);
  await vi.advanceTimersByTimeAsync(60_000);
  expect(source.refreshes).toBe(2);
});

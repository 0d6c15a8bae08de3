import { Worker } from 'node:worker_threads';
import type { NewSnapshot } from '../storage/run-store.js';
import type { JournalBatch } from '../storage/journal-batch.entity.js';
import type { FollowerStart, FromFollower, ToFollower } from './journal-follower.js';

/** Where snapshots go. */
export interface SnapshotSink {
  saveSnapshot(snapshot: NewSnapshot): Promise<void>;
}

export interface KeeperObserver {
  /** The session is not what its journal leads to. */
  notTheSame(batch: number): void;
  /** Nobody follows the journal from now on: it is checked no more, and there are no snapshots. */
  followerLost(why: string): void;
  /** One snapshot could not be kept; the next may be. */
  snapshotLost(why: string): void;
}

/** Wall-clock ms between snapshots. */
const INTERVAL = 120_000;
/** Wall-clock ms that a thread may take for the last one, when the server is being stopped. */
const PATIENCE = 10_000;

/**
 * Has a thread of its own follow the journal of a running session, and keeps the snapshots it makes. The thread that runs
 * trains only hands on the text of what it has written. When the thread dies, the session goes on without snapshots.
 */
export class SnapshotKeeper {
  readonly #thread: Worker;
  readonly #timer: ReturnType<typeof setInterval>;
  #alive = true;
  #closing = false;
  #saving: Promise<void> = Promise.resolve();
  #answered: () => void = () => {};
  /** Who waits for the engine's memory, by the number of their question. */
  readonly #asked = new Map<number, (engine: string | null) => void>();
  #last = 0;

  constructor(
    private readonly start: FollowerStart,
    private readonly engine: string,
    private readonly sink: SnapshotSink,
    private readonly observer: KeeperObserver,
    file = new URL('./follower-thread.js', import.meta.url),
    private readonly patience = PATIENCE,
  ) {
    this.#thread = new Worker(file, { workerData: start });
    this.#thread.unref();
    this.#thread.on('message', (message: FromFollower) => this.#take(message));
    this.#thread.on('error', (error) => this.#lost(error.message));
    this.#thread.on('exit', (code) => this.#lost(`it left with ${code}`));
    this.#timer = setInterval(() => this.#send({ kind: 'snapshot' }), INTERVAL);
    this.#timer.unref();
  }

  /** A batch has been written. */
  follow({ batch, inputs, chain }: JournalBatch): void {
    this.#send({ kind: 'batch', batch, inputs, chain });
  }

  /** The engine's memory as it was when the last batch was written, as text; null when nobody follows any more. */
  present(): Promise<string | null> {
    if (!this.#alive) return Promise.resolve(null);
    const id = ++this.#last;
    return new Promise((answer) => {
      this.#asked.set(id, answer);
      this.#send({ kind: 'present', id });
    });
  }

  /** Keeps a last snapshot of all that was followed, if the thread makes it in time, and ends the thread. */
  async close(): Promise<void> {
    clearInterval(this.#timer);
    this.#closing = true;
    if (this.#alive) {
      this.#thread.ref();
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, this.patience);
        this.#answered = () => {
          clearTimeout(timer);
          resolve();
        };
        this.#send({ kind: 'snapshot' });
      });
    }
    await this.#saving;
    this.#alive = false;
    this.#refuseAll();
    await this.#thread.terminate();
  }

  #send(message: ToFollower): void {
    if (this.#alive) this.#thread.postMessage(message, []);
  }

  #take(message: FromFollower): void {
    if (message.kind === 'differs') return this.observer.notTheSame(message.batch);
    if (message.kind === 'present') {
      this.#asked.get(message.id)?.(message.engine);
      this.#asked.delete(message.id);
      return;
    }
    if (message.kind === 'snapshot') {
      const { kind: _, ...snapshot } = message;
      const { session, run } = this.start;
      this.#saving = this.#saving
        .then(() => this.sink.saveSnapshot({ session, run, engine: this.engine, ...snapshot }))
        .catch((error: unknown) => this.observer.snapshotLost(textOf(error)));
    }
    this.#answered();
  }

  #refuseAll(): void {
    for (const answer of this.#asked.values()) answer(null);
    this.#asked.clear();
  }

  #lost(why: string): void {
    if (!this.#alive) return;
    this.#alive = false;
    clearInterval(this.#timer);
    this.#refuseAll();
    // A session that is being closed has nobody left to tell.
    if (!this.#closing) this.observer.followerLost(why);
    this.#answered();
  }
}

const textOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

import { chainOf, nextChain, runName } from '@blockbell/journal';
import type { Effect, Input } from '@blockbell/railway';
import type { EntryKind, JournalEntry } from './journal-entry.entity.js';
import type { JournalRows } from './journal-store.js';
import { WriteQueue, type WriteObserver } from './write-queue.js';

/** Where a journal's rows go; rejects when they could not be written. */
export interface JournalSink {
  write(rows: JournalRows): Promise<void>;
}

/** Wall-clock ms of inputs in one batch at most. */
const BATCH_SPAN = 100;
/** Wall-clock ms between tries of a write that failed. */
const RETRY_INTERVAL = 1_000;

/**
 * Records every input of one run of an engine, its effects as a hash chain, and what is worth reading later. Recording never waits: rows
 * gather in memory and go to disk in batches, in order.
 */
export class Journal {
  private inputs: Input[] = [];
  private entries: JournalEntry[] = [];
  private revision = 0;
  private chain: string;
  private batches = 0;
  private entryCount = 0;
  /** Closed batches. */
  private readonly queue: WriteQueue<JournalRows>;
  private closeTimer: ReturnType<typeof setTimeout> | null = null;

  constructor(
    sink: JournalSink,
    observer: WriteObserver,
    private readonly session: number,
    private readonly run: number,
  ) {
    this.chain = chainOf(runName(session, run));
    this.queue = new WriteQueue((rows) => sink.write(rows), observer, RETRY_INTERVAL);
  }

  /** One step: what came in, what followed, and the engine's revision after it. */
  record(input: Input, effects: readonly Effect[], revision: number): void {
    this.inputs.push(input);
    this.revision = revision;
    this.chain = nextChain(this.chain, effects);
    this.closeSoon();
  }

  /** `at` in physical ms, `fast` in fast-clock ms. */
  note(kind: EntryKind, at: number, fast: number, text: string, train: number | null): void {
    const { session, run } = this;
    this.entries.push({
      session,
      run,
      number: this.entryCount++,
      kind,
      at: Math.round(at),
      fast: Math.round(fast),
      train,
      text,
    });
    this.closeSoon();
  }

  /** Tries to write everything once; whether all of it is on disk now. */
  flush(): Promise<boolean> {
    this.closeBatch();
    return this.queue.flush();
  }

  /** {@link flush}, then no more tries. */
  async close(): Promise<boolean> {
    this.closeBatch();
    const complete = await this.queue.close();
    if (this.closeTimer !== null) clearTimeout(this.closeTimer);
    return complete;
  }

  private closeSoon(): void {
    this.closeTimer ??= setTimeout(() => this.closeBatch(), BATCH_SPAN);
  }

  private closeBatch(): void {
    if (this.closeTimer !== null) clearTimeout(this.closeTimer);
    this.closeTimer = null;
    if (this.inputs.length === 0 && this.entries.length === 0) return;
    const { session, run, revision, chain } = this;
    const inputs = JSON.stringify(this.inputs);
    const batch = { session, run, batch: this.batches++, revision, inputs, chain };
    this.queue.add({ batch, entries: this.entries });
    this.inputs = [];
    this.entries = [];
  }
}

import { chainOf, nextChain, runName } from '@blockbell/journal';
import type { Effect, Input } from '@blockbell/railway';
import type { EntryKind, JournalEntry } from './journal-entry.entity.js';
import type { JournalRows } from './journal-store.js';

/** Where a journal's rows go; rejects when they could not be written. */
export interface JournalSink {
  write(rows: JournalRows): Promise<void>;
}

export interface JournalObserver {
  /** Rows could not be written; they are kept and tried again. Told once until mended. */
  failing(why: string): void;
  /** All that was kept is written. */
  mended(): void;
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
  /** Closed batches that are not on disk yet, in order. */
  private readonly unwritten: JournalRows[] = [];
  private writing: Promise<void> | null = null;
  private failing = false;
  private closeTimer: ReturnType<typeof setTimeout> | null = null;
  private retryTimer: ReturnType<typeof setTimeout> | null = null;

  constructor(
    private readonly sink: JournalSink,
    private readonly observer: JournalObserver,
    private readonly session: number,
    private readonly run: number,
  ) {
    this.chain = chainOf(runName(session, run));
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
  async flush(): Promise<boolean> {
    this.closeBatch();
    await this.writing;
    if (this.unwritten.length > 0) await this.writeAll();
    return this.unwritten.length === 0;
  }

  /** {@link flush}, then no more tries. */
  async close(): Promise<boolean> {
    const complete = await this.flush();
    if (this.closeTimer !== null) clearTimeout(this.closeTimer);
    if (this.retryTimer !== null) clearTimeout(this.retryTimer);
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
    this.unwritten.push({ batch, entries: this.entries });
    this.inputs = [];
    this.entries = [];
    if (!this.failing) void this.writeAll();
  }

  private writeAll(): Promise<void> {
    this.writing ??= this.writeInOrder().finally(() => {
      this.writing = null;
    });
    return this.writing;
  }

  private async writeInOrder(): Promise<void> {
    try {
      for (let rows = this.unwritten[0]; rows !== undefined; rows = this.unwritten[0]) {
        await this.sink.write(rows);
        this.unwritten.shift();
      }
    } catch (error) {
      this.fail(error);
      return;
    }
    if (this.failing) {
      this.failing = false;
      this.observer.mended();
    }
  }

  private fail(error: unknown): void {
    this.retryTimer = setTimeout(() => void this.writeAll(), RETRY_INTERVAL);
    if (this.failing) return;
    this.failing = true;
    this.observer.failing(error instanceof Error ? error.message : String(error));
  }
}

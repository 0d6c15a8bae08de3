/** Told when writing begins to fail, once, and when all that had to wait is written. */
export interface WriteObserver {
  failing(why: string): void;
  mended(): void;
}

/**
 * What goes to disk one after the other, in order, without ever being waited for. While writing fails everything stays, and is
 * tried again.
 */
export class WriteQueue<Item> {
  private waiting: Item[] = [];
  private writing: Promise<void> | null = null;
  private failing = false;
  private retryTimer: ReturnType<typeof setTimeout> | null = null;

  /** `write` rejects when an item could not be written; `retryInterval`: wall-clock ms between tries. */
  constructor(
    private readonly write: (item: Item) => Promise<void>,
    private readonly observer: WriteObserver,
    private readonly retryInterval: number,
  ) {}

  add(item: Item): void {
    this.waiting.push(item);
    if (!this.failing) void this.writeAll();
  }

  /** Whether the last try failed; nothing is written until the next. */
  get isFailing(): boolean {
    return this.failing;
  }

  /** What is not on disk yet, in order. */
  get left(): readonly Item[] {
    return this.waiting;
  }

  /** Gives up all that is not on disk yet. */
  giveUp(): void {
    this.waiting = [];
  }

  /** Tries to write everything once; whether all of it is on disk now. */
  async flush(): Promise<boolean> {
    await this.writing;
    if (this.waiting.length > 0) await this.writeAll();
    return this.waiting.length === 0;
  }

  /** {@link flush}, then no more tries. */
  async close(): Promise<boolean> {
    const complete = await this.flush();
    this.forgetRetry();
    return complete;
  }

  private writeAll(): Promise<void> {
    this.writing ??= this.writeInOrder().finally(() => {
      this.writing = null;
    });
    return this.writing;
  }

  private async writeInOrder(): Promise<void> {
    // All was given up: that nothing had to be written mends nothing.
    if (this.waiting.length === 0) return this.tryLater();
    try {
      for (let next = this.waiting[0]; next !== undefined; next = this.waiting[0]) {
        await this.write(next);
        // It may have been given up meanwhile.
        if (this.waiting[0] === next) this.waiting.shift();
      }
    } catch (error) {
      this.fail(error);
      return;
    }
    if (!this.failing) return;
    this.failing = false;
    this.observer.mended();
  }

  private fail(error: unknown): void {
    this.tryLater();
    if (this.failing) return;
    this.failing = true;
    this.observer.failing(error instanceof Error ? error.message : String(error));
  }

  private tryLater(): void {
    this.forgetRetry();
    this.retryTimer = setTimeout(() => void this.writeAll(), this.retryInterval);
  }

  private forgetRetry(): void {
    if (this.retryTimer !== null) clearTimeout(this.retryTimer);
    this.retryTimer = null;
  }
}

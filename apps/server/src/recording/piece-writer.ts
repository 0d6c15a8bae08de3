import { packed } from './packing.js';
import type { RecordingPiece } from './recording-piece.entity.js';
import type { OwnMark } from './session-recorder.js';

/** Where pieces go; rejects when one could not be written. */
export interface RecordingSink {
  write(piece: RecordingPiece): Promise<void>;
}

export interface RecordingObserver {
  /** Pieces can't be written; told once until mended. */
  recordingFailing(why: string): void;
  /** Writing works again. */
  recordingMended(): void;
}

/** A piece before it is compressed. */
export type NewPiece = Omit<RecordingPiece, 'content' | 'bytes' | 'marks'> & {
  readonly marks: readonly OwnMark[];
  readonly text: string;
};

/** Wall-clock ms between tries of a write that failed. */
export const RETRY_INTERVAL = 5_000;
/** Characters that may wait while writing fails; beyond them the recording has a gap. */
export const MOST_WAITING = 16_000_000;

/**
 * Compresses pieces and writes them in order, without ever being waited for. While writing fails, pieces wait; when too
 * many do, all of them are given up, since none can be shown without the ones before it.
 */
export class PieceWriter {
  private waiting: NewPiece[] = [];
  private writing: Promise<void> | null = null;
  private failing = false;
  private retryTimer: ReturnType<typeof setTimeout> | null = null;

  /** `lost` is told what was marked in pieces that are given up. */
  constructor(
    private readonly sink: RecordingSink,
    private readonly observer: RecordingObserver,
    private readonly lost: (marks: readonly OwnMark[]) => void,
  ) {}

  add(piece: NewPiece): void {
    this.waiting.push(piece);
    if (!this.failing) void this.writeAll();
    else if (this.waiting.reduce((sum, { text }) => sum + text.length, 0) > MOST_WAITING)
      this.giveUp();
  }

  /** Tries to write everything once, then no more; whether all of it is on disk now. */
  async close(): Promise<boolean> {
    await this.writing;
    if (this.waiting.length > 0) await this.writeAll();
    if (this.retryTimer !== null) clearTimeout(this.retryTimer);
    return this.waiting.length === 0;
  }

  private giveUp(): void {
    const marks = this.waiting.flatMap((piece) => piece.marks);
    this.waiting = [];
    this.lost(marks);
  }

  private writeAll(): Promise<void> {
    this.writing ??= this.writeInOrder().finally(() => {
      this.writing = null;
    });
    return this.writing;
  }

  private async writeInOrder(): Promise<void> {
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
    this.observer.recordingMended();
  }

  private async write({ text, marks, ...piece }: NewPiece): Promise<void> {
    const content = await packed(text);
    await this.sink.write({
      ...piece,
      marks: JSON.stringify(marks),
      bytes: content.length,
      content,
    });
  }

  private fail(error: unknown): void {
    this.retryTimer = setTimeout(() => void this.writeAll(), RETRY_INTERVAL);
    if (this.failing) return;
    this.failing = true;
    this.observer.recordingFailing(error instanceof Error ? error.message : String(error));
  }
}

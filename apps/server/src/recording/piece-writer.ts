import { WriteQueue } from '../storage/write-queue.js';
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
  private readonly queue: WriteQueue<NewPiece>;

  /** `lost` is told what was marked in pieces that are given up. */
  constructor(
    private readonly sink: RecordingSink,
    observer: RecordingObserver,
    private readonly lost: (marks: readonly OwnMark[]) => void,
  ) {
    this.queue = new WriteQueue(
      (piece) => this.write(piece),
      {
        failing: (why) => observer.recordingFailing(why),
        mended: () => observer.recordingMended(),
      },
      RETRY_INTERVAL,
    );
  }

  add(piece: NewPiece): void {
    this.queue.add(piece);
    if (!this.queue.isFailing) return;
    const { left } = this.queue;
    if (left.reduce((sum, { text }) => sum + text.length, 0) <= MOST_WAITING) return;
    this.queue.giveUp();
    this.lost(left.flatMap(({ marks }) => marks));
  }

  /** Tries to write everything once, then no more; whether all of it is on disk now. */
  close(): Promise<boolean> {
    return this.queue.close();
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
}

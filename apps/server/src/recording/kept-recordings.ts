import { Inject, Injectable, Logger } from '@nestjs/common';
import { SETTINGS, type Settings } from '../config/settings.js';
import type { RecordingSink } from './piece-writer.js';
import { recordingsToDrop } from './recording-limits.js';
import type { RecordingPiece } from './recording-piece.entity.js';
import { RecordingStore } from './recording-store.js';

/** Writes what is recorded and sees to it that no more is kept than the settings say. The journal is never touched. */
@Injectable()
export class KeptRecordings implements RecordingSink {
  private readonly logger = new Logger(KeptRecordings.name);

  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    @Inject(RecordingStore) private readonly store: RecordingStore,
  ) {}

  async write(piece: RecordingPiece): Promise<void> {
    await this.store.write(piece);
    if (piece.piece === 0) await this.tidy(piece.session);
  }

  /** Lets go of the oldest recordings beyond the limits. What fails is tried with the next key frame. */
  private async tidy(recorded: number): Promise<void> {
    try {
      const sizes = await this.store.sizes();
      for (const session of recordingsToDrop(sizes, this.settings.recordings, recorded))
        await this.store.drop(session);
    } catch (error) {
      this.logger.error(`recordings: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
}

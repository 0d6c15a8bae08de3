import { Inject, Injectable } from '@nestjs/common';
import { readFile } from '@blockbell/contract';
import type { StoredPlaceFile, TimetableFile } from '@blockbell/railway';
import type { SessionFiles } from '../files/check-files.js';
import { FileLibrary } from '../files/file-library.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { FileStore } from '../storage/file-store.js';
import { SessionStore } from '../storage/session-store.js';
import type { StoredSession } from '../storage/stored-session.entity.js';

/** Begins where an ended session left off: on its layout and stock, with every train stored where it stands now. */
@Injectable()
export class FollowOn {
  constructor(
    @Inject(SessionStore) private readonly sessions: SessionStore,
    @Inject(FileStore) private readonly files: FileStore,
    @Inject(FileLibrary) private readonly library: FileLibrary,
  ) {}

  /** What a session after the session `id` runs on; refused when the trains don't stand where their work begins. */
  async filesAfter(id: number): Promise<SessionFiles> {
    const session = await this.sessions.find(id);
    const lineUp = session === null ? null : await this.sessions.lineUpOf(id);
    if (session === null || lineUp === null)
      throw new RefusalException(409, {
        code: 'no-line-up',
        text: `Session ${id} left no line-up: only one that was ended says where its trains stand. Begin on files instead.`,
      });
    return this.filesWith(session, JSON.parse(lineUp.places) as StoredPlaceFile[]);
  }

  /** What a session runs on that begins with the trains of another in these places; refused as above. */
  async filesWith(
    session: Pick<StoredSession, 'id' | 'layoutHash' | 'stockHash' | 'timetableHash'>,
    places: readonly StoredPlaceFile[],
  ): Promise<SessionFiles> {
    const stored = await this.files.find(session.timetableHash);
    const read = stored === null ? null : readFile(stored.text);
    if (read?.ok !== true || read.file.kind !== 'blockbell-timetable')
      throw new RefusalException(409, {
        code: 'unreadable-file',
        text: `The timetable of session ${session.id} is not one that this version can read.`,
      });
    return this.library.together({
      layout: session.layoutHash,
      stock: session.stockHash,
      timetable: withPlaces(read.file, places),
    });
  }
}

/** Trains that were off the layout keep the place the timetable stores them in. */
function withPlaces(file: TimetableFile, places: readonly StoredPlaceFile[]): TimetableFile {
  const standing = new Set(places.map(({ train }) => train));
  const others = file.storedPlaces.filter(({ train }) => !standing.has(train));
  return { ...file, storedPlaces: [...places, ...others] };
}

import { SessionReplay } from '@blockbell/journal';
import { refusal, type LayoutFile, type StockFile, type TimetableFile } from '@blockbell/railway';
import type { SnapshotKeeper } from '../follower/snapshot-keeper.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import type { RunningSession } from '../session/running-session.js';

/** The session that is asked about. */
export interface ForetoldSession {
  readonly files: ForetoldFiles;
  /** Whether it follows plans. */
  readonly planning: boolean;
  /** The engine's memory at the moment, as text. */
  present(): Promise<string>;
}

interface ForetoldFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly hashes: { readonly layout: string; readonly stock: string; readonly timetable: string };
}

interface OpenSession {
  readonly files: ForetoldFiles;
  readonly running: RunningSession;
  /** Null where there are no threads. */
  readonly keeper: SnapshotKeeper | null;
}

/** A running session's memory comes from the thread that follows its journal: the one that runs trains writes nothing out. */
export function foretoldSession(
  { files, running, keeper }: OpenSession,
  planning: boolean,
): ForetoldSession {
  const present = async (): Promise<string> => {
    // What could not be written yet, the follower doesn't know.
    if (running.journalFailing) throw new RefusalException(503, NOBODY_FOLLOWS);
    const text = keeper === null ? SessionReplay.saveEngine(running) : await keeper.present();
    if (text === null) throw new RefusalException(503, NOBODY_FOLLOWS);
    return text;
  };
  return { files, planning, present };
}

const NOBODY_FOLLOWS = refusal(
  'not-foretold',
  'The journal of this session is not followed now, so nothing can be foretold. Commands can be given all the same.',
);

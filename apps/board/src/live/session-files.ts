import type { Places } from '@blockbell/drawing';
import {
  compileLayoutForDrawing,
  compileStock,
  compileTimetable,
  noAddedWork,
  withAdded,
} from '@blockbell/railway';
import type { SessionView } from '@blockbell/contract/messages';
import type {
  AddedWork,
  Layout,
  LayoutFile,
  Stock,
  StockFile,
  Timetable,
  TimetableFile,
} from '@blockbell/railway';
import { withEveryPlace } from './every-place.js';

/** The files a session is frozen to, as they are stored. */
export interface SessionFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

/** What a session runs on, compiled from its files; row numbers are indexes into these. Every element has a place. */
export interface Railway {
  readonly files: SessionFiles;
  /** Id of the session whose files these are; null when it is not the one that runs. */
  readonly session: string | null;
  readonly layout: Layout;
  readonly stock: Stock;
  readonly timetable: Timetable;
  /** What is in the timetable beyond its file; null: nothing. */
  readonly added: AddedWork | null;
}

/** The railway with what was added to its timetable since the session began. */
export const withAddedWork = (railway: Railway, added: AddedWork | null): Railway =>
  added === null
    ? railway
    : {
        ...railway,
        added,
        timetable: withAdded(railway.timetable, added, railway.layout, railway.stock),
      };

/** What a session row says was added, as a text that only changes with it; empty: nothing. */
export const addedText = (session: SessionView | null | undefined): string =>
  session?.added === undefined ||
  (session.added.services.length + session.added.workings.length === 0 &&
    (session.added.elsewhere ?? []).length === 0)
    ? ''
    : JSON.stringify(session.added);

/** What {@link addedText} stands for. */
export const addedFrom = (text: string): AddedWork | null =>
  text === '' ? null : { ...noAddedWork(), ...(JSON.parse(text) as Partial<AddedWork>) };

interface FilesAnswer extends SessionFiles {
  readonly session?: string;
  readonly places?: Places;
}

/** Fetches a session's files, which the server has validated, and compiles them. Throws with a readable message. */
export async function loadRailway(address = '/api/session/files'): Promise<Railway> {
  const response = await fetch(address, { headers: { accept: 'application/json' } });
  if (!response.ok)
    throw new Error(`The server answered ${response.status} for the session's files.`);
  const { session, places, ...files }: FilesAnswer = await response.json();
  const layout = compileLayoutForDrawing(await withEveryPlace(files.layout, places));
  const stock = compileStock(files.stock);
  const timetable = compileTimetable(files.timetable, layout, stock);
  return { files, session: session ?? null, layout, stock, timetable, added: null };
}

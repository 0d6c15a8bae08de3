import { compileLayout, compileStock, compileTimetable } from '@blockbell/railway';
import type {
  Layout,
  LayoutFile,
  Stock,
  StockFile,
  Timetable,
  TimetableFile,
} from '@blockbell/railway';

/** What a session runs on, compiled from its files; row numbers are indexes into these. */
export interface Railway {
  readonly layout: Layout;
  readonly stock: Stock;
  readonly timetable: Timetable;
}

interface SessionFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

/** Fetches a session's files, which the server has validated, and compiles them. Throws with a readable message. */
export async function loadRailway(address = '/api/session/files'): Promise<Railway> {
  const response = await fetch(address, { headers: { accept: 'application/json' } });
  if (!response.ok)
    throw new Error(`The server answered ${response.status} for the session's files.`);
  const files: SessionFiles = await response.json();
  const layout = compileLayout(files.layout);
  const stock = compileStock(files.stock);
  return { layout, stock, timetable: compileTimetable(files.timetable, layout, stock) };
}

import { exampleFiles } from '@blockbell/examples';
import { compileLayout, compileStock, compileTimetable } from '@blockbell/railway';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import type { Railway } from '../live/session-files.js';

/** The railway of the demo, of no session; elements have the places that their file gives them. */
export function demoRailway(): Railway {
  const text = exampleFiles('demo');
  const files = {
    layout: JSON.parse(text.layout) as LayoutFile,
    stock: JSON.parse(text.stock) as StockFile,
    timetable: JSON.parse(text.timetable) as TimetableFile,
  };
  const layout = compileLayout(files.layout);
  const stock = compileStock(files.stock);
  const timetable = compileTimetable(files.timetable, layout, stock);
  return { files, session: null, layout, stock, timetable, added: null };
}

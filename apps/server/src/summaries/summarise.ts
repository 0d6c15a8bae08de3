import type { SessionSummaryAnswer } from '@blockbell/contract';
import { summariseSession, summaryTables } from '@blockbell/journal';
import {
  compileWorld,
  type Input,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';

/** A stored session: its files, and the batches of its inputs as JSON. */
export interface SummaryAsked {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly batches: readonly string[];
}

/** Runs the session's inputs through a fresh engine. */
export function summarise({
  layout,
  stock,
  timetable,
  batches,
}: SummaryAsked): SessionSummaryAnswer {
  const inputs = batches.flatMap((text) => JSON.parse(text) as Input[]);
  const summary = summariseSession(compileWorld(layout, stock, timetable), timetable, inputs);
  return { ok: true, summary, tables: { ...summaryTables(summary) } };
}

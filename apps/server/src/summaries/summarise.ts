import type { SessionSummaryAnswer } from '@blockbell/contract';
import {
  countInputs,
  summariseSession,
  summaryTables,
  type Opening,
  type StoredBatch,
} from '@blockbell/journal';
import {
  compileWorld,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';

/** A stored session: its files, and its openings in order, each with its batches. */
export interface SummaryAsked {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly openings: readonly (Opening & { readonly batches: readonly StoredBatch[] })[];
}

/** Runs the session's inputs through a fresh engine, as far as they can be read. */
export function summarise({
  layout,
  stock,
  timetable,
  openings,
}: SummaryAsked): SessionSummaryAnswer {
  const { inputs, torn } = countInputs(openings);
  const summary = summariseSession(compileWorld(layout, stock, timetable), timetable, inputs);
  return { ok: true, summary, torn, tables: { ...summaryTables(summary) } };
}

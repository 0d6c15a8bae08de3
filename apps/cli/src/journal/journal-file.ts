import type { Input, LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';

/**
 * A journal file: JSON, one value a line. First the heading with the session's files, then batches of the engine's
 * inputs in order, each with the chain over the effects up to its end.
 */
export interface JournalHeading {
  readonly kind: 'blockbell-journal';
  readonly version: 1;
  /** Version of the program that recorded it; only the same version need replay it to the same bytes. */
  readonly program: string;
  /** What was recorded; the chain begins with its hash. */
  readonly name: string;
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

export interface JournalBatch {
  readonly inputs: readonly Input[];
  readonly chain: string;
}

export interface JournalFile {
  readonly heading: JournalHeading;
  readonly batches: readonly JournalBatch[];
}

/** A journal that can't be read: the line, counted from 1, and what is wrong there. */
export interface JournalFault {
  readonly line: number;
  readonly text: string;
}

export const writeJournal = ({ heading, batches }: JournalFile): string =>
  [heading, ...batches].map((line) => `${JSON.stringify(line)}\n`).join('');

/** Reads a journal; its files are checked by whoever runs them. */
export function readJournal(text: string): JournalFile | JournalFault {
  const lines: unknown[] = [];
  for (const [index, line] of text.trimEnd().split('\n').entries()) {
    try {
      lines.push(JSON.parse(line));
    } catch {
      return { line: index + 1, text: 'this line is no JSON; the file may have been cut short' };
    }
  }
  const [heading, ...batches] = lines;
  if (!isHeading(heading)) {
    return { line: 1, text: 'this is no heading of a journal of format version 1' };
  }
  const wrong = batches.findIndex((batch) => !isBatch(batch));
  if (wrong >= 0) return { line: wrong + 2, text: 'this line holds no inputs with their chain' };
  return { heading, batches: batches.filter(isBatch) };
}

const hasFields = (value: unknown, fields: readonly string[]): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && fields.every((field) => field in value);

const isHeading = (value: unknown): value is JournalHeading =>
  hasFields(value, ['kind', 'version', 'program', 'name', 'layout', 'stock', 'timetable']) &&
  value['kind'] === 'blockbell-journal' &&
  value['version'] === 1;

const isBatch = (value: unknown): value is JournalBatch =>
  hasFields(value, ['inputs', 'chain']) &&
  typeof value['chain'] === 'string' &&
  Array.isArray(value['inputs']) &&
  value['inputs'].every((input: unknown) => hasFields(input, ['at', 'kind']));

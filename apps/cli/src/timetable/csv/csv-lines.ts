import type { Fault } from '@blockbell/railway';
import { CsvError, parse } from 'csv-parse/sync';

/** A row of a CSV with the line it stands on. */
export interface CsvLine<Column extends string> {
  readonly line: number;
  readonly row: Readonly<Record<Column, string>>;
}

/** The rows of a CSV by the names of its first row; a fault where it is none, or lacks one of the columns. */
export function csvLines<Column extends string>(
  text: string,
  columns: readonly Column[],
): CsvLine<Column>[] | Fault {
  try {
    const records = parse(text, {
      bom: true,
      columns: true,
      info: true,
      delimiter: delimiterOf(text),
      skip_empty_lines: true,
      trim: true,
    }) as unknown as { info: { lines: number }; record: Partial<Record<Column, string>> }[];
    const [first] = records;
    if (first === undefined) return faultAt(1, 'there is no row', 'write one row for each entry');
    const missing = columns.filter((column) => first.record[column] === undefined);
    if (missing.length > 0)
      return faultAt(1, `columns are missing: ${missing.join(', ')}`, `name ${columns.join(', ')}`);
    return records.map(({ info, record }) => ({
      line: info.lines,
      row: record as Record<Column, string>,
    }));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = (error as { lines?: number }).lines ?? 1;
    return faultAt(
      line,
      error.message,
      'close every quote, and give each row as many cells as the first',
    );
  }
}

export const faultAt = (line: number, text: string, mend: string): Fault => ({
  place: `line ${line}`,
  text,
  mend,
});

/** What stands between the cells of the first row: spreadsheets write what their country writes. */
const delimiterOf = (text: string): string =>
  [',', ';', '\t'].find((delimiter) => text.split('\n', 1)[0]!.includes(delimiter)) ?? ',';

import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';

/** The three files of one example. */
export interface ExampleFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

/** Longest line into which a list or an object is folded. */
const WIDTH = 100;

/** JSON as a person would write it: what fits on a line stands on one, but a table's rows. Ends with a newline. */
export const readableJson = (value: unknown): string => `${write(value, 0, 0)}\n`;

/** `used` is what already stands on the line before the value, and the comma after it. */
function write(value: unknown, indent: number, used: number): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const flat = folded(value);
  if (indent > 0 && flat !== null && flat.length + used <= WIDTH) return flat;
  const pad = ' '.repeat(indent + 2);
  const end = ' '.repeat(indent);
  if (Array.isArray(value)) {
    const items = value.map((item) => pad + write(item, indent + 2, indent + 3));
    return `[\n${items.join(',\n')}\n${end}]`;
  }
  const entries = Object.entries(value).map(([key, item]) => {
    const head = `${pad}${JSON.stringify(key)}: `;
    return head + write(item, indent + 2, head.length + 1);
  });
  return `{\n${entries.join(',\n')}\n${end}}`;
}

/** The value on one line; null when it holds a table. */
function folded(value: unknown): string | null {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (isTable(value)) return null;
  const names = Array.isArray(value) ? null : Object.keys(value);
  const parts = Object.values(value).map(folded);
  if (parts.includes(null)) return null;
  if (names === null) return `[${parts.join(', ')}]`;
  const entries = parts.map((part, index) => `${JSON.stringify(names[index])}: ${part}`);
  return entries.length === 0 ? '{}' : `{ ${entries.join(', ')} }`;
}

/** Several rows of several values each. */
const isTable = (value: object): boolean =>
  Array.isArray(value) &&
  value.length > 1 &&
  value.every((row) => typeof row === 'object' && row !== null && Object.keys(row).length > 1);

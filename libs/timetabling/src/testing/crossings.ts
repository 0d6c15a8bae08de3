import { exampleFiles, type ExampleName } from '@blockbell/examples';
import type { CallFile, LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';

export interface Files {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

export function filesOf(name: ExampleName): Files {
  const { layout, stock, timetable } = exampleFiles(name);
  return {
    layout: JSON.parse(layout) as LayoutFile,
    stock: JSON.parse(stock) as StockFile,
    timetable: JSON.parse(timetable) as TimetableFile,
  };
}

type Writable<T> = T extends string | number
  ? T
  : T extends readonly (infer E)[]
    ? Writable<E>[]
    : { -readonly [K in keyof T]: Writable<T[K]> };

/** A copy of a timetable, changed. */
export function edited(
  file: TimetableFile,
  edit: (file: Writable<TimetableFile>) => void,
): TimetableFile {
  const copy = structuredClone(file) as Writable<TimetableFile>;
  edit(copy);
  return copy as TimetableFile;
}

/** The timetable with other times at one call. */
export const booked = (
  file: TimetableFile,
  service: string,
  call: number,
  times: Pick<CallFile, 'arrive' | 'depart'>,
): TimetableFile =>
  edited(file, ({ services }) => {
    Object.assign(services.find(({ id }) => id === service)!.calls[call]!, times);
  });

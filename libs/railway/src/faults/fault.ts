/** Something wrong in a file: where, what, and how to mend it. */
export interface Fault {
  /** Name of the file, where several are examined together. */
  readonly file?: string;
  /** Path in the file with the name of the thing: `elements[12] T4 port diverging`. */
  readonly place: string;
  readonly text: string;
  readonly mend: string;
}

export const fault = (place: string, text: string, mend: string): Fault => ({ place, text, mend });

/** The place of an entry of a list: `sections[3] s-12`. */
export const placeOf = (list: string, index: number, id: string): string =>
  `${list}[${index}] ${id}`;

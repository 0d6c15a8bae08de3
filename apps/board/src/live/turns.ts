/** What a frame of the screen brings on. */
export type Turn = 'trains' | 'labels' | 'words' | 'lines';

/** What waits for a frame of its own. */
export interface Waiting {
  readonly words: boolean;
  readonly lines: boolean;
}

/** Trains, their labels and what waits, each in a frame of its own: at least every fourth frame moves the trains. */
export class Turns {
  #last: Turn = 'lines';

  next(waits: Waiting): Turn {
    const after = ORDER.indexOf(this.#last) + 1;
    const next = ORDER.slice(after).find((turn) => isWanted(turn, waits));
    return (this.#last = next ?? 'trains');
  }
}

const ORDER: readonly Turn[] = ['trains', 'labels', 'words', 'lines'];

const isWanted = (turn: Turn, { words, lines }: Waiting): boolean =>
  turn === 'words' ? words : turn !== 'lines' || lines;

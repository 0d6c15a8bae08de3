/** What a frame of the screen brings on. */
export type Turn = 'trains' | 'labels' | 'words';

/** Trains, their labels and, where any wait, words, each in a frame of its own: every second or third frame moves the trains. */
export class Turns {
  #last: Turn = 'words';

  next(wordsWait: boolean): Turn {
    if (this.#last === 'trains') this.#last = 'labels';
    else if (this.#last === 'labels' && wordsWait) this.#last = 'words';
    else this.#last = 'trains';
    return this.#last;
  }
}

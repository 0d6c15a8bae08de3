import type { LiveRows } from '../live/live-rows.js';
import { aspectOf, lampWords } from './lamp-shapes.js';

/** A signal by the heading at whose end it stands. */
interface Signal {
  readonly heading: number;
  readonly name: string;
}

/**
 * A list of thousands of signals in words, written piece by piece, of which only what changed is told again: as a component each
 * of its lines would cost with every message.
 */
export class SignalList {
  readonly #lines = new Map<number, { readonly name: string; readonly line: HTMLElement }>();
  #written = 0;

  /** `place`: the list's element, which is emptied. */
  constructor(
    private readonly place: HTMLElement,
    private readonly signals: readonly Signal[],
    private readonly rows: LiveRows,
  ) {
    place.replaceChildren();
  }

  /** Writes so many more; whether some are left. */
  write(count: number): boolean {
    const more = this.signals.slice(this.#written, this.#written + count);
    this.#written += more.length;
    this.place.append(
      ...more.map(({ heading, name }) => {
        const line = document.createElement('li');
        line.textContent = lampWords(name, aspectOf(this.rows, heading));
        this.#lines.set(heading, { name, line });
        return line;
      }),
    );
    return this.#written < this.signals.length;
  }

  tellAgain(headings: Iterable<number>): void {
    for (const heading of headings) {
      const found = this.#lines.get(heading);
      if (found) found.line.textContent = lampWords(found.name, aspectOf(this.rows, heading));
    }
  }
}

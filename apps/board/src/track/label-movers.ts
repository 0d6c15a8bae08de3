import type { Point } from './line.js';

type Mover = (element: HTMLElement | SVGElement) => () => void;

/** Moves what belongs to trains' labels along with them, without the components that it is part of. */
export class LabelMovers {
  readonly #movers = new Map<number, Mover>();
  readonly #elements = new Map<number, Set<HTMLElement | SVGElement>>();
  /** Where each train's elements are, pixels of the view: to ask an element itself costs more than to move it. */
  readonly #places = new Map<number, Point>();

  /** Put on an element, moves it along until it is taken off; the same each time. */
  mover(train: number): Mover {
    const known = this.#movers.get(train);
    if (known) return known;
    const mover: Mover = (element) => {
      const elements = this.#elements.get(train) ?? new Set();
      this.#elements.set(train, elements.add(element));
      const place = this.#places.get(train);
      if (place) put(element, place);
      return () => elements.delete(element);
    };
    this.#movers.set(train, mover);
    return mover;
  }

  move(train: number, [x, y]: Point): void {
    // Whole pixels keep the letters sharp, and what moves by less costs nothing.
    const place = [Math.round(x), Math.round(y)] as const;
    const was = this.#places.get(train);
    if (was?.[0] === place[0] && was[1] === place[1]) return;
    this.#places.set(train, place);
    for (const element of this.#elements.get(train) ?? []) put(element, place);
  }
}

function put(element: HTMLElement | SVGElement, [x, y]: Point): void {
  element.style.transform = `translate(${x}px, ${y}px)`;
}

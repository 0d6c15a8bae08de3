/** How long a refusal stays on screen unless it is closed, ms. */
const SHOWN_FOR = 15_000;

export interface Notice {
  readonly number: number;
  readonly text: string;
  /** Screen position of the control it belongs to: its middle and its lower edge. */
  readonly x: number;
  readonly y: number;
  readonly control: Element;
}

/** Refusals, each shown beside the control that was refused. */
export class Notices {
  shown = $state.raw<readonly Notice[]>([]);
  #last = 0;

  /** Shows `text` beside `control`; a newer one for the same place replaces the older. */
  show(text: string, control: Element): void {
    const { left, width, bottom } = control.getBoundingClientRect();
    const number = ++this.#last;
    const notice: Notice = { number, text, x: left + width / 2, y: bottom, control };
    this.shown = [...this.shown.filter(({ x, y }) => x !== notice.x || y !== notice.y), notice];
    setTimeout(() => this.close(notice.number), SHOWN_FOR);
  }

  close(number: number): void {
    this.shown = this.shown.filter((notice) => notice.number !== number);
  }

  /** What was refused of a control is past once it is used anew. */
  closeOf(control: Element): void {
    this.shown = this.shown.filter((notice) => notice.control !== control);
  }

  closeAll(): void {
    this.shown = [];
  }
}

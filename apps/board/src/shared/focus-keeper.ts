/** Parts of the page that can be named to who is taken there. */
const PARTS = '[aria-label], main, header';

type Holder = HTMLElement | SVGElement;

/**
 * Keeps the focus on the page: when the control that has it vanishes, the nearest part around it that has a name gets it. A part,
 * not its first control: a key held down must not press another button than the one it was meant for.
 */
export class FocusKeeper {
  #last: Holder | null = null;
  /** From the inside to the outside. */
  #around: readonly Holder[] = [];

  /** Notes where the focus is until the returned function is called. */
  follow(): () => void {
    const came = ({ target }: FocusEvent): void => {
      if (target instanceof HTMLElement || target instanceof SVGElement) this.#note(target);
    };
    const went = ({ target }: FocusEvent): void => {
      // By then a control that vanishes is gone; one that is still there was left on purpose.
      setTimeout(() => {
        if (this.#last === target && isLost() && this.#last && canHold(this.#last))
          this.#last = null;
      });
    };
    document.addEventListener('focusin', came);
    document.addEventListener('focusout', went);
    return () => {
      document.removeEventListener('focusin', came);
      document.removeEventListener('focusout', went);
    };
  }

  /** To be called whenever the page may have changed. */
  restore(): void {
    if (!this.#last || !isLost() || canHold(this.#last)) return;
    const part = this.#around.find((one) => one.isConnected && one.checkVisibility());
    this.#last = null;
    if (!part) return;
    if (!part.hasAttribute('tabindex')) part.setAttribute('tabindex', '-1');
    part.focus();
  }

  #note(holder: Holder): void {
    this.#last = holder;
    const around: Holder[] = [];
    for (let part = holder.parentElement; part; part = part.parentElement)
      if (part.matches(PARTS)) around.push(part);
    this.#around = around;
  }
}

const isLost = (): boolean =>
  document.activeElement === null || document.activeElement === document.body;

const canHold = (holder: Holder): boolean =>
  holder.isConnected && !holder.matches(':disabled') && holder.checkVisibility();

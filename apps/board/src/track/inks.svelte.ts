/** Colours and font of the theme in force, for what is painted without style sheets. */
export class Inks {
  /** Rises whenever the colours are others. */
  version = $state(0);
  #read = new Map<string, string>();

  /** The value of a style property such as `--track`. */
  of(property: string): string {
    const known = this.#read.get(property);
    if (known !== undefined) return known;
    const value = getComputedStyle(document.documentElement).getPropertyValue(property).trim();
    this.#read.set(property, value);
    return value;
  }

  /** Follows changes of the theme until the returned function is called. */
  follow(): () => void {
    const renew = (): void => {
      this.#read = new Map();
      this.version += 1;
    };
    const dark = window.matchMedia('(prefers-color-scheme: dark)');
    const chosen = new MutationObserver(renew);
    dark.addEventListener('change', renew);
    chosen.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    return () => {
      dark.removeEventListener('change', renew);
      chosen.disconnect();
    };
  }
}

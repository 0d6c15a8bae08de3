/** Things in sets, each at a whole distance from its set's first member: of turns, or of drawing units. */
export class OffsetSets {
  readonly #above: number[];
  /** Own value less the value of what it hangs on. */
  readonly #offset: number[];

  constructor(size: number) {
    this.#above = Array.from({ length: size }, (_, index) => index);
    this.#offset = Array.from({ length: size }, () => 0);
  }

  /** The set of a thing, by the number of its first member, and how much more than that the thing is. */
  find(thing: number): { readonly root: number; readonly offset: number } {
    let root = thing;
    let offset = 0;
    while (this.#above[root] !== root) {
      offset += this.#offset[root] ?? 0;
      root = this.#above[root] ?? root;
    }
    // Everything on the way hangs on the root from now on.
    let rest = offset;
    for (let at = thing; this.#above[at] !== at && at !== root;) {
      const next = this.#above[at] ?? root;
      const own = this.#offset[at] ?? 0;
      this.#above[at] = root;
      this.#offset[at] = rest;
      rest -= own;
      at = next;
    }
    return { root, offset };
  }

  /** Makes `other` be `more` more than `one`, unless that is settled already: then whether it is so. */
  tie(one: number, other: number, more: number, modulus = 0): boolean {
    const p = this.find(one);
    const q = this.find(other);
    const wanted = p.offset + more - q.offset;
    if (p.root === q.root) return modulus === 0 ? wanted === 0 : wanted % modulus === 0;
    this.#above[q.root] = p.root;
    this.#offset[q.root] = wanted;
    return true;
  }
}

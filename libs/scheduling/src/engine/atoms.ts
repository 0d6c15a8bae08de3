/**
 * Everything the engine knows is a bound. A *variable* `v` has two *sides*: side `2v` holds its lower bound, side
 * `2v + 1` its upper bound with the sign turned round, so that on either side a greater number says more. An *atom*
 * is a side and a number: "the bound on this side is at least that". The opposite of atom `(side, value)` is
 * `(side ^ 1, 1 − value)`. A *literal* is a side of a variable with the range 0 to 1: side `2v` says yes, `2v + 1` no.
 */
export class AtomList {
  size = 0;
  sides = new Int32Array(64);
  values = new Float64Array(64);

  clear(): void {
    this.size = 0;
  }

  push(side: number, value: number): void {
    if (this.size === this.sides.length) {
      this.sides = grown(this.sides, new Int32Array(2 * this.size));
      this.values = grown(this.values, new Float64Array(2 * this.size));
    }
    this.sides[this.size] = side;
    this.values[this.size] = value;
    this.size++;
  }

  /** Adds the atom that a literal is true. */
  pushLiteral(literal: number): void {
    this.push(literal, 1 - (literal & 1));
  }
}

/** `larger`, with what `array` holds at its beginning. */
export function grown<T extends Int32Array | Float64Array>(array: T, larger: T): T {
  larger.set(array);
  return larger;
}

/** Variables by how often they took part in conflicts of late: a heap whose top is the most active. */
export class Activity {
  readonly #score: Float64Array;
  readonly #heap: Int32Array;
  readonly #position: Int32Array;
  #size = 0;
  #bump = 1;

  /** @param variables number of variables, of which only those put in take part */
  constructor(variables: number) {
    this.#score = new Float64Array(variables);
    this.#heap = new Int32Array(variables);
    this.#position = new Int32Array(variables).fill(-1);
  }

  bump(variable: number): void {
    this.#score[variable]! += this.#bump;
    if (this.#score[variable]! > 1e100) {
      for (let v = 0; v < this.#score.length; v++) this.#score[v]! *= 1e-100;
      this.#bump *= 1e-100;
    }
    if (this.#position[variable]! >= 0) this.#up(this.#position[variable]!);
  }

  decay(): void {
    this.#bump /= 0.95;
  }

  put(variable: number): void {
    if (this.#position[variable]! >= 0) return;
    this.#position[variable] = this.#size;
    this.#heap[this.#size] = variable;
    this.#up(this.#size++);
  }

  /** Takes the most active variable out; −1 when none that is left has ever taken part in a conflict. */
  takeActive(): number {
    return this.#size === 0 || this.#score[this.#heap[0]!] === 0 ? -1 : this.take();
  }

  /** Takes the most active variable out; −1 when none is left. */
  take(): number {
    if (this.#size === 0) return -1;
    const top = this.#heap[0]!;
    this.#position[top] = -1;
    const moved = this.#heap[--this.#size]!;
    if (this.#size > 0) {
      this.#heap[0] = moved;
      this.#position[moved] = 0;
      this.#down(0);
    }
    return top;
  }

  #before(a: number, b: number): boolean {
    const difference = this.#score[a]! - this.#score[b]!;
    return difference > 0 || (difference === 0 && a < b);
  }

  #up(start: number): void {
    let at = start;
    const variable = this.#heap[at]!;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      const other = this.#heap[parent]!;
      if (!this.#before(variable, other)) break;
      this.#heap[at] = other;
      this.#position[other] = at;
      at = parent;
    }
    this.#heap[at] = variable;
    this.#position[variable] = at;
  }

  #down(start: number): void {
    let at = start;
    const variable = this.#heap[at]!;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= this.#size) break;
      if (child + 1 < this.#size && this.#before(this.#heap[child + 1]!, this.#heap[child]!))
        child++;
      const other = this.#heap[child]!;
      if (!this.#before(other, variable)) break;
      this.#heap[at] = other;
      this.#position[other] = at;
      at = child;
    }
    this.#heap[at] = variable;
    this.#position[variable] = at;
  }
}

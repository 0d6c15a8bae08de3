/** What the dispatcher looks at: a train, a block with a stranger in it, or another element of the track. */
export type Subject =
  | { readonly kind: 'train'; readonly train: number }
  | { readonly kind: 'element'; readonly element: number };

/** What is chosen, and the train that a pointer or the focus rests on; shared by track, graph and lists. */
export class Selection {
  #chosen = $state.raw<Subject | null>(null);
  /** Whether the block is being chosen where the chosen train's way shall end. */
  choosingBlock = $state(false);
  pointed = $state<number | null>(null);

  get chosen(): Subject | null {
    return this.#chosen;
  }

  set chosen(subject: Subject | null) {
    this.#chosen = subject;
    this.choosingBlock = false;
  }

  get train(): number | null {
    return this.chosen?.kind === 'train' ? this.chosen.train : null;
  }

  get element(): number | null {
    return this.chosen?.kind === 'element' ? this.chosen.element : null;
  }

  /** Choosing what is chosen already lets go of it. */
  toggleTrain(train: number): void {
    this.chosen = this.train === train ? null : { kind: 'train', train };
  }

  toggleElement(element: number): void {
    this.chosen = this.element === element ? null : { kind: 'element', element };
  }

  /** Whether this train is to be lit. */
  lit(train: number): boolean {
    return this.pointed === train || this.train === train;
  }

  /** Whether others than this train are to be dimmed. */
  dimmed(train: number): boolean {
    return this.pointed !== null && this.pointed !== train;
  }
}

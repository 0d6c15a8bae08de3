import type { TrainState } from '@blockbell/railway';

/** The block in which a train's head is proven to be; −1 when it is not on the railway. */
export const headBlock = ({ path, edge }: TrainState): number =>
  path.findLast(({ heading, start }) => heading >= 0 && start < edge)?.element ??
  path.find(({ heading }) => heading >= 0)?.element ??
  -1;

/** A head that went from one block into another; −1: from or to a place off the railway. */
export interface HeadMove {
  readonly train: number;
  readonly from: number;
  readonly to: number;
}

/** Follows the heads of trains from block to block. */
export class HeadBlocks {
  readonly #blocks: number[];

  constructor(trains: readonly TrainState[]) {
    this.#blocks = trains.map(headBlock);
  }

  /** Blocks in which heads are now, by train. */
  get blocks(): readonly number[] {
    return this.#blocks;
  }

  /** The move of a train since it was last asked about; null when its head is where it was. */
  moved(train: number, state: TrainState): HeadMove | null {
    const from = this.#blocks[train] ?? -1;
    const to = headBlock(state);
    if (from === to) return null;
    this.#blocks[train] = to;
    return { train, from, to };
  }
}

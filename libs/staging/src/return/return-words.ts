import { blockOf, slotText, type World } from '@blockbell/railway';
import type { MoveStage, ReturnRun } from './carry-out.js';
import type { LeftCode } from './return-plan.js';

/** A return to start as people read it. Times in physical ms. */
export interface ReturnTold {
  readonly moves: readonly {
    readonly train: string;
    /** What it does: `turns round and runs to Selquay 4`. */
    readonly text: string;
    readonly isHome: boolean;
    readonly time: number;
    readonly stage: MoveStage;
    /** Why the engine refuses it, or refused it at last; null: it does not. */
    readonly why: string | null;
  }[];
  readonly left: readonly {
    readonly train: string;
    readonly code: LeftCode;
    readonly why: string;
    readonly mend: string;
  }[];
  /** Trains that stand where they began, and need not be moved. */
  readonly there: readonly string[];
  readonly time: number;
  readonly isBest: boolean;
}

export function tellReturn({ layout, stock }: World, { plan, progress }: ReturnRun): ReturnTold {
  const labelOf = (train: number): string => stock.trains[train]!.file.label;
  return {
    moves: plan.moves.map(({ train, turns, to, isHome, time }, at) => ({
      train: labelOf(train),
      text: `${turns ? 'turns round and runs' : 'runs'} to ${slotText(layout, blockOf(to))}`,
      isHome,
      time,
      stage: progress[at]!.stage,
      why: progress[at]!.why,
    })),
    left: plan.left.map(({ train, code, why, mend }) => ({
      train: labelOf(train),
      code,
      why,
      mend,
    })),
    there: plan.there.map(labelOf),
    time: plan.time,
    isBest: plan.isBest,
  };
}

import { compileWorld, createSession, step } from '@blockbell/railway';
import { chainOf, nextChain } from '@blockbell/journal';
import type { JournalFile } from './journal-file.js';

export type Replay =
  /** Every step had the same effects. */
  | { readonly same: true; readonly inputs: number; readonly chain: string }
  /** The first batch whose effects differ: inputs `from` to `to`, counted from 1, the last of them at `at` physical ms. */
  | { readonly same: false; readonly from: number; readonly to: number; readonly at: number };

/** Feeds a journal's inputs to a fresh engine and compares what comes of them. */
export function replay({ heading, batches }: JournalFile): Replay {
  const world = compileWorld(heading.layout, heading.stock, heading.timetable);
  const state = createSession(world);
  let chain = chainOf(heading.name);
  let fed = 0;
  for (const batch of batches) {
    for (const input of batch.inputs) {
      chain = nextChain(chain, step(world, state, input).effects);
    }
    const from = fed + 1;
    fed += batch.inputs.length;
    if (chain !== batch.chain) return { same: false, from, to: fed, at: state.now };
  }
  return { same: true, inputs: fed, chain };
}

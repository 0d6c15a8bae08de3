import type { Input } from '@blockbell/railway';
import type { ReplayedBatch } from './session-replay.js';

/** A batch of one opening of a session as it is stored. */
export interface StoredBatch {
  /** From 0, without a gap. */
  readonly batch: number;
  /** JSON array of inputs. */
  readonly inputs: string;
  /** Chain over the effects up to its end; see `nextChain`. */
  readonly chain: string;
}

/** One opening of a session. */
export interface Opening {
  readonly run: number;
  /** The last batch of the opening before that it went on from; -1: none. */
  readonly takenUpTo: number;
}

export interface CountedBatch extends ReplayedBatch {
  readonly batch: number;
}

/** What counts of an opening. */
export interface CountedBatches {
  readonly counted: readonly CountedBatch[];
  /** How many the next opening left out. */
  readonly leftOut: number;
  /** The batch before the first that is missing or can't be read, after which nothing counts; null: all is whole. */
  readonly tornAfter: number | null;
}

/** The last batch of an opening that counts: the next opening went on from there. */
export const lastThatCounts = (openings: readonly Opening[], run: number): number =>
  openings.find((each) => each.run === run + 1)?.takenUpTo ?? Infinity;

/**
 * Which batches of an opening count: those after `after` (-1: from the first), in order, up to `last`, as far as they are whole. The
 * one place that says so.
 * @param stored in the order of their numbers, none before `after`
 */
export function countBatches(
  stored: readonly StoredBatch[],
  after: number,
  last: number,
): CountedBatches {
  const wanted = stored.filter(({ batch }) => batch <= last);
  const leftOut = stored.length - wanted.length;
  const counted: CountedBatch[] = [];
  let before = after;
  for (const { batch, inputs: text, chain } of wanted) {
    const inputs = inputsIn(text);
    if (inputs === null || batch !== before + 1) return { counted, leftOut, tornAfter: before };
    counted.push({ batch, inputs, chain });
    before = batch;
  }
  // What the next opening went on from was there once.
  const isWhole = last === Infinity || before >= last;
  return { counted, leftOut, tornAfter: isWhole ? null : before };
}

function inputsIn(text: string): readonly Input[] | null {
  try {
    const inputs: unknown = JSON.parse(text);
    return Array.isArray(inputs) ? (inputs as readonly Input[]) : null;
  } catch {
    return null;
  }
}

/** Where a journal is torn, and what that means, for people. */
export const tornText = (run: number, after: number): string =>
  `The journal is torn after ${after < 0 ? `the beginning of run ${run}` : `batch ${after} of run ${run}`}; what came after is left out.`;

/** All inputs of a session that count, of all its openings; they end where the journal is torn. */
export interface CountedInputs {
  readonly inputs: readonly Input[];
  /** Where it is torn, as a sentence; null: nowhere. */
  readonly torn: string | null;
}

/** @param openings in order, each with its batches */
export function countInputs(
  openings: readonly (Opening & { readonly batches: readonly StoredBatch[] })[],
): CountedInputs {
  const inputs: Input[] = [];
  for (const { run, batches } of openings) {
    const { counted, tornAfter } = countBatches(batches, -1, lastThatCounts(openings, run));
    for (const batch of counted) for (const input of batch.inputs) inputs.push(input);
    if (tornAfter !== null) return { inputs, torn: tornText(run, tornAfter) };
  }
  return { inputs, torn: null };
}

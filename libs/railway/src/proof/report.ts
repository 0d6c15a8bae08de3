/** What the static proof of a layout came to. */
export interface ProofReport {
  readonly layout: {
    readonly id: string;
    readonly name: string;
    /** Content hash of the file. */
    readonly hash: string;
  };
  readonly size: {
    readonly sections: number;
    readonly blocks: number;
    readonly drives: number;
    readonly routes: number;
    /** Pairs of routes that must exclude one another. */
    readonly exclusions: number;
  };
  readonly checks: readonly ProofCheck[];
  /** Whether every check holds. */
  readonly proved: boolean;
}

export interface ProofCheck {
  readonly name: CheckName;
  /** What was to be proved, as a sentence. */
  readonly claim: string;
  /** How many single statements were looked at. */
  readonly looked: number;
  /** Where the claim does not hold, each a sentence. Empty: proved. */
  readonly faults: readonly string[];
  /** What is so and is known to be so, where a person should know it too. */
  readonly notes: readonly string[];
}

export type CheckName =
  'routes' | 'exclusion' | 'flank' | 'drives' | 'sharing' | 'positions' | 'leaving';

/** How far a proof has come. */
export interface ProofProgress {
  readonly check: CheckName;
  readonly done: number;
  readonly of: number;
}

/** A part of the proof: tells how far it has come, and gives its check at last. */
export type ProofPart = Generator<ProofProgress, ProofCheck, void>;

/** Routes looked at between two words of progress. */
export const TELL_EVERY = 64;

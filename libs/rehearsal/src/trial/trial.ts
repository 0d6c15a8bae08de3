import type { Aspect, LayoutFile, StockFile } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import type { Use } from '../tally/track-use.js';

/** What to try, and with what. */
export interface TrialSetup {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  /** Same seed, same report. */
  readonly seed: number;
  /** Ids of the routes to try; all of them if left out. */
  readonly routes?: readonly string[];
  /** Id of the train to try them with; if left out, the longest that can stand at both ends of a route tries it. */
  readonly train?: string;
  /** What is wrong with the layout; times count from each time that a train is set on the track. */
  readonly faults?: readonly Fault[];
}

/** A turnout or reversing section of a route, as it came to lie. */
export interface TriedDrive {
  readonly id: string;
  readonly position: string;
  /** Physical ms from the request to its proof; null: it was never proven. */
  readonly proven: number | null;
  /** Whether it had to move for it. */
  readonly thrown: boolean;
}

/** Why a route did not pass. */
export interface TrialFault {
  /** One sentence that names the place. */
  readonly text: string;
  /** What mends it; null where the sentence says it. */
  readonly mend: string | null;
}

/** One route tried: set, proven, run over and freed. */
export interface RouteTrial {
  /** Id of the route. */
  readonly route: string;
  /** As people call it: `Pennick 1 → block L3`. */
  readonly name: string;
  /** The end of the block that it leaves, and that the train looks to when it has come: `Y1.b`. */
  readonly from: string;
  readonly to: string;
  /** Label of the train; null where none can try it. */
  readonly train: string | null;
  /** `not-run`: no train can, or the trial was broken off before. */
  readonly outcome: 'passed' | 'failed' | 'not-run';
  /** The first thing that went wrong, or why it was not run. */
  readonly fault: TrialFault | null;
  /** What is worth knowing of one that passed, a sentence each. */
  readonly notes: readonly string[];
  /** Physical ms from the request until the train stood and what it had left was free. */
  readonly took: number | null;
  /** How far before its stop mark the train stood, mm; negative: beyond it. */
  readonly short: number | null;
  /** The best aspect that the signal at its beginning showed. */
  readonly aspect: Aspect | null;
  readonly drives: readonly TriedDrive[];
  /** Sections that said they were occupied. */
  readonly sections: readonly string[];
}

export interface TrialReport {
  readonly layout: { readonly name: string; readonly hash: string };
  readonly seed: number;
  /** In the order of the layout's routes. */
  readonly trials: readonly RouteTrial[];
  readonly passed: number;
  readonly failed: number;
  readonly notRun: number;
  /** What the routes tried have used of the whole layout: drives by position. */
  readonly coverage: { readonly drives: Use; readonly sections: Use; readonly signals: Use };
  /** Whether it came to its end and was not broken off. */
  readonly whole: boolean;
}

export interface TrialProgress {
  readonly done: number;
  readonly of: number;
  readonly last: RouteTrial;
}

import {
  runTrial,
  type RouteTrial,
  type TrialProgress,
  type TrialReport,
  type TrialSetup,
} from '@blockbell/rehearsal';

export type ToTrier =
  { readonly kind: 'begin'; readonly setup: TrialSetup } | { readonly kind: 'break-off' };

export type FromTrier =
  | {
      readonly kind: 'tried';
      readonly done: number;
      readonly of: number;
      readonly last: Pick<RouteTrial, 'route' | 'outcome'>;
    }
  | { readonly kind: 'report'; readonly report: TrialReport };

/** Tries the routes of one trial, wherever it runs; between any two of them it can be told to break off. */
export class TrialWork {
  #trial: Generator<TrialProgress, TrialReport, boolean | undefined> | null = null;
  #breaksOff = false;

  constructor(private readonly tell: (message: FromTrier) => void) {}

  take(message: ToTrier): void {
    if (message.kind === 'break-off') this.#breaksOff = true;
    else {
      this.#trial = runTrial(message.setup);
      setImmediate(() => this.#next());
    }
  }

  /** Leaves it where it is. */
  drop(): void {
    this.#trial = null;
  }

  #next(): void {
    const step = this.#trial?.next(this.#breaksOff);
    if (step === undefined) return;
    if (step.done === true) {
      this.tell({ kind: 'report', report: step.value });
      return;
    }
    const { done, of, last } = step.value;
    this.tell({ kind: 'tried', done, of, last: { route: last.route, outcome: last.outcome } });
    setImmediate(() => this.#next());
  }
}

import { Inject, Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { RouteTrialView } from '@blockbell/contract';
import { refusal } from '@blockbell/railway';
import { unknownIn, type TrialReport, type TrialSetup } from '@blockbell/rehearsal';
import { RefusalException } from '../refusal/refusal.exception.js';
import type { FromTrier } from './trial-work.js';
import { TRIERS, type MakeTrier, type Trier } from './triers.js';

/** A trial, from its beginning until the next one begins. */
interface Trial {
  readonly began: number;
  done: number;
  of: number | null;
  failed: string[];
  /** Real ms at which it ended; null while it goes on. */
  ended: number | null;
  why: string | null;
  report: TrialReport | null;
}

/** Has routes tried in a thread of its own, one trial at a time; the last one's report is kept until the next begins. */
@Injectable()
export class TrialDesk implements OnModuleDestroy {
  #trial: Trial | null = null;
  #trier: Trier | null = null;

  constructor(@Inject(TRIERS) private readonly make: MakeTrier) {}

  begin(setup: TrialSetup): void {
    if (this.#trier !== null) throw new RefusalException(409, ONE_AT_A_TIME);
    const unknown = unknownIn(setup);
    if (unknown !== null) throw new RefusalException(404, refusal('unknown', unknown));
    const trial: Trial = {
      began: performance.now(),
      done: 0,
      of: null,
      failed: [],
      ended: null,
      why: null,
      report: null,
    };
    this.#trial = trial;
    this.#trier = this.make(
      (message) => this.#heard(trial, message),
      (why) => {
        trial.why = `The trial ended before its time: ${why}. Begin it again.`;
        this.#end(trial);
      },
    );
    this.#trier.send({ kind: 'begin', setup });
  }

  /** Breaks off the one that goes on; what was tried until then is reported soon after. */
  breakOff(): void {
    if (this.#trier === null) throw new RefusalException(409, NONE_GOES_ON);
    this.#trier.send({ kind: 'break-off' });
  }

  view(): RouteTrialView['trial'] {
    if (this.#trial === null) return null;
    const { began, done, of, failed, ended, why, report } = this.#trial;
    return {
      state: ended === null ? 'running' : report === null ? 'lost' : 'ended',
      done,
      of,
      took: (ended ?? performance.now()) - began,
      failed,
      why,
      report,
    };
  }

  onModuleDestroy(): void {
    this.#trier?.close();
    this.#trier = null;
  }

  #heard(trial: Trial, message: FromTrier): void {
    if (message.kind === 'report') {
      trial.report = message.report;
      this.#end(trial);
      return;
    }
    trial.done = message.done;
    trial.of = message.of;
    if (message.last.outcome === 'failed') trial.failed.push(message.last.route);
  }

  #end(trial: Trial): void {
    trial.ended = performance.now();
    this.#trier?.close();
    this.#trier = null;
  }
}

const ONE_AT_A_TIME = refusal(
  'trial-goes-on',
  'Routes are being tried already. Wait for the end, or break that trial off.',
);
const NONE_GOES_ON = refusal('no-trial', 'No trial goes on.');

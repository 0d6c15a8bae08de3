import { Inject, Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { RehearsalsView } from '@blockbell/contract';
import { refusal } from '@blockbell/railway';
import { RefusalException } from '../refusal/refusal.exception.js';
import type { FromRehearser, RehearsalsAsked, WrittenReport } from './rehearsal-work.js';
import { REHEARSERS, type MakeRehearser, type Rehearser } from './rehearsers.js';

/** Rehearsals, from their beginning until the next begin. */
interface Rehearsals {
  readonly number: number;
  readonly began: number;
  readonly of: number;
  done: number;
  /** Real ms at which they ended; null while they go on. */
  ended: number | null;
  why: string | null;
  report: WrittenReport | null;
}

/**
 * Has sessions rehearsed and reported on in threads of their own, one lot at a time; the last lot's report is kept until the next
 * begins.
 */
@Injectable()
export class RehearsalDesk implements OnModuleDestroy {
  #last: Rehearsals | null = null;
  #rehearser: Rehearser | null = null;

  constructor(@Inject(REHEARSERS) private readonly make: MakeRehearser) {}

  begin(asked: RehearsalsAsked): void {
    if (this.#rehearser !== null) throw new RefusalException(409, ONE_AT_A_TIME);
    const lot: Rehearsals = {
      number: (this.#last?.number ?? 0) + 1,
      began: performance.now(),
      of: asked.sessions * asked.plans.length,
      done: 0,
      ended: null,
      why: null,
      report: null,
    };
    this.#last = lot;
    this.#rehearser = this.make(
      (message) => this.#heard(lot, message),
      (why) => this.#end(lot, lostText(why)),
    );
    this.#rehearser.send({ kind: 'begin', asked });
  }

  /** Breaks off those that go on; what was run until then is reported soon after. */
  breakOff(): void {
    if (this.#rehearser === null) throw new RefusalException(409, NONE_GO_ON);
    this.#rehearser.send({ kind: 'break-off' });
  }

  view(): RehearsalsView['rehearsals'] {
    const lot = this.#last;
    if (lot === null) return null;
    const { number, began, of, done, ended, why, report } = lot;
    const took = (ended ?? performance.now()) - began;
    return {
      state: ended === null ? 'running' : report === null ? 'lost' : 'ended',
      done,
      of,
      took,
      left: ended !== null || done === 0 ? null : (took / done) * (of - done),
      why,
      first: report?.first ?? null,
      second: report?.second ?? null,
      comparison: report?.comparison ?? null,
      files: number,
    };
  }

  /** One of the last report's texts; see {@link WrittenReport.texts}. */
  text(name: string): string {
    const report = this.#last?.report ?? null;
    if (report === null) throw new RefusalException(404, NOTHING_YET);
    const text = Object.hasOwn(report.texts, name) ? report.texts[name] : undefined;
    if (text === undefined) throw new RefusalException(404, NO_SUCH);
    return text;
  }

  onModuleDestroy(): void {
    this.#rehearser?.close();
    this.#rehearser = null;
  }

  #heard(lot: Rehearsals, message: FromRehearser): void {
    if (message.kind === 'rehearsed') {
      lot.done = message.done;
      return;
    }
    if (message.kind === 'report') lot.report = message.report;
    this.#end(lot, message.kind === 'report' ? message.report.why : lostText(message.why));
  }

  #end(lot: Rehearsals, why: string | null): void {
    lot.why = why;
    lot.ended = performance.now();
    this.#rehearser?.close();
    this.#rehearser = null;
  }
}

const lostText = (why: string): string =>
  `The rehearsals ended before their time: ${why}. Begin them again.`;
const ONE_AT_A_TIME = refusal(
  'rehearsals-go-on',
  'Sessions are being rehearsed already. Wait for the end, or break them off.',
);
const NONE_GO_ON = refusal('no-rehearsals', 'No rehearsals go on.');
const NOTHING_YET = refusal(
  'no-report',
  'There is no report of rehearsals yet. Begin some, and wait for their end.',
);
const NO_SUCH = refusal('unknown', 'The report has no such picture or table.');

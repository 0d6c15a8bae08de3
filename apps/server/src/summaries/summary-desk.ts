import { Injectable } from '@nestjs/common';
import type { SessionSummaryAnswer } from '@blockbell/contract';
import { refusal } from '@blockbell/railway';
import { RefusalException } from '../refusal/refusal.exception.js';
import { once } from '../side-thread.js';
import { summarise, type SummaryAsked } from './summarise.js';

/** A thread runs compiled code only: whoever runs the server from its sources summarises where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

/** Summaries that may be asked for at once. */
const MOST_WAITING = 4;

/** Has sessions summarised in a thread of their own, one after the other: the one that runs trains is not held up. */
@Injectable()
export class SummaryDesk {
  #before: Promise<unknown> = Promise.resolve();
  #waiting = 0;

  /** @param asked is called when it is its turn */
  async summarise(asked: () => Promise<SummaryAsked>): Promise<SessionSummaryAnswer> {
    if (this.#waiting >= MOST_WAITING) throw TOO_MANY;
    this.#waiting++;
    const mine = this.#before.then(async () => summarised(await asked()));
    this.#before = mine.catch(() => {});
    try {
      return await mine;
    } finally {
      this.#waiting--;
    }
  }
}

const summarised = (asked: SummaryAsked): Promise<SessionSummaryAnswer> =>
  once(
    IS_COMPILED ? new URL('./summary-thread.js', import.meta.url) : null,
    summarise,
    asked,
  ).catch((error: unknown) => {
    throw unavailable(error instanceof Error ? error.message : String(error));
  });

const unavailable = (why: string): RefusalException =>
  new RefusalException(
    503,
    refusal('no-summary', `The session could not be summarised: ${why}. Try again.`),
  );
const TOO_MANY = new RefusalException(
  503,
  refusal('summaries-wait', 'Too many sessions are being summarised. Try again in a moment.'),
);

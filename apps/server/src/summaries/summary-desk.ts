import { Injectable } from '@nestjs/common';
import type { SessionSummaryAnswer } from '@blockbell/contract';
import { refusal } from '@blockbell/railway';
import { RefusalException } from '../refusal/refusal.exception.js';
import { once } from '../side-thread.js';
import { summarise, type SummaryAsked } from './summarise.js';

/** A thread runs compiled code only: whoever runs the server from its sources summarises where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

/** Has sessions summarised in a thread of their own, one after the other: the one that runs trains is not held up. */
@Injectable()
export class SummaryDesk {
  #before: Promise<unknown> = Promise.resolve();

  summarise(asked: () => Promise<SummaryAsked>): Promise<SessionSummaryAnswer> {
    const mine = this.#before.then(async () => summarised(await asked()));
    this.#before = mine.catch(() => {});
    return mine;
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

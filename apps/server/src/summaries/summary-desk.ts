import { Injectable } from '@nestjs/common';
import type { SessionSummaryAnswer } from '@blockbell/contract';
import { refusal } from '@blockbell/railway';
import { RefusalException } from '../refusal/refusal.exception.js';
import { here, inThread, type SideWorker } from '../side-thread.js';
import { summarise, type SummaryAsked } from './summarise.js';

/** Real ms after which a summary is given up. */
const LONGEST = 60_000;
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

function summarised(asked: SummaryAsked): Promise<SessionSummaryAnswer> {
  let worker: SideWorker<SummaryAsked> | null = null;
  let late: ReturnType<typeof setTimeout> | undefined;
  return new Promise<SessionSummaryAnswer>((answer, refuse) => {
    const lost = (why: string): void => refuse(unavailable(why));
    late = setTimeout(() => lost('it took more than a minute'), LONGEST);
    worker = IS_COMPILED
      ? inThread(new URL('./summary-thread.js', import.meta.url), answer, lost)
      : here(summarise, answer);
    worker.send(asked);
  }).finally(() => {
    clearTimeout(late);
    worker?.close();
  });
}

const unavailable = (why: string): RefusalException =>
  new RefusalException(
    503,
    refusal('no-summary', `The session could not be summarised: ${why}. Try again.`),
  );

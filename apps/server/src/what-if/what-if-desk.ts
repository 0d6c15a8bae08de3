import { Inject, Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { Lever } from '@blockbell/contract';
import type { WhatIf } from '@blockbell/rehearsal';
import { RefusalException } from '../refusal/refusal.exception.js';
import type { ForetoldSession } from './foretold-session.js';
import { FORETELLERS, type Foreteller, type MakeForeteller } from './foretellers.js';

/** Questions that may wait at once. */
const MOST_WAITING = 5;
/** Real ms after which a question is given up. */
const LONGEST = 30_000;

/**
 * Has the effects of commands worked out in a thread of its own, one after the other: the thread that runs trains is not held
 * up. Who asked and does not want to know any more takes it back; a thread at work on it is ended then.
 */
@Injectable()
export class WhatIfDesk implements OnModuleDestroy {
  #foreteller: Foreteller | null = null;
  /** The railway the foreteller was told of. */
  #told = '';
  #last = 0;
  #waiting = 0;
  #before: Promise<unknown> = Promise.resolve();
  /** What is being worked out now. */
  #asked: {
    readonly id: number;
    readonly answer: (whatIf: WhatIf | null) => void;
    readonly refuse: (why: RefusalException) => void;
  } | null = null;

  constructor(@Inject(FORETELLERS) private readonly make: MakeForeteller) {}

  /** @param withdrawn by who asked, when they don't want to know any more */
  async ask(session: ForetoldSession, command: Lever, withdrawn: AbortSignal): Promise<WhatIf> {
    if (this.#waiting >= MOST_WAITING)
      throw unavailable('Too many effects are being worked out. Try again in a moment.');
    this.#waiting++;
    const mine = this.#before.then(() => this.#work(session, command, withdrawn));
    this.#before = mine.catch(() => {});
    try {
      return await mine;
    } finally {
      this.#waiting--;
    }
  }

  onModuleDestroy(): void {
    this.#drop();
  }

  async #work(session: ForetoldSession, command: Lever, withdrawn: AbortSignal): Promise<WhatIf> {
    if (withdrawn.aborted) throw WITHDRAWN;
    const id = ++this.#last;
    let settled = (): void => {};
    const asked = new Promise<WhatIf | null>((answer, refuse) => {
      this.#asked = { id, answer, refuse };
      const giveUp = (why: RefusalException): void => {
        this.#drop();
        refuse(why);
      };
      const late = setTimeout(() => giveUp(TOOK_TOO_LONG), LONGEST);
      const onAbort = (): void => giveUp(WITHDRAWN);
      withdrawn.addEventListener('abort', onAbort);
      settled = () => {
        clearTimeout(late);
        withdrawn.removeEventListener('abort', onAbort);
      };
      session
        .present()
        .then((present) => {
          if (this.#asked?.id === id) this.#send(session, { id, command, present });
        })
        .catch(refuse);
    });
    try {
      const whatIf = await asked;
      if (whatIf === null) throw NOT_RUNNING;
      return whatIf;
    } finally {
      this.#asked = null;
      settled();
    }
  }

  #send(
    { files, planning }: ForetoldSession,
    question: { readonly id: number; readonly command: Lever; readonly present: string },
  ): void {
    const foreteller = (this.#foreteller ??= this.#begin());
    const { layout, stock, timetable, hashes } = files;
    const told = `${hashes.layout} ${hashes.stock} ${hashes.timetable} ${planning}`;
    if (told !== this.#told)
      foreteller.send({ kind: 'railway', layout, stock, timetable, planning });
    this.#told = told;
    foreteller.send({ kind: 'ask', ...question });
  }

  #begin(): Foreteller {
    return this.make(
      ({ id, whatIf }) => {
        if (this.#asked?.id === id) this.#asked.answer(whatIf);
      },
      (why) => {
        this.#drop();
        this.#asked?.refuse(unavailable(`The effect could not be worked out: ${why}.`));
      },
    );
  }

  #drop(): void {
    this.#foreteller?.close();
    this.#foreteller = null;
    this.#told = '';
  }
}

const unavailable = (text: string): RefusalException =>
  new RefusalException(503, { code: 'not-foretold', text });
const TOOK_TOO_LONG = unavailable(
  `The effect was not worked out within ${LONGEST / 1000} s. The command can be given without it.`,
);
const WITHDRAWN = unavailable('The question was taken back.');
const NOT_RUNNING = new RefusalException(409, {
  code: 'not-running',
  text: 'The fast clock stands still: an effect can be foretold while the session runs.',
});

import { Inject, Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import type { TimetableCheck } from '@blockbell/timetabling';
import { RefusalException } from '../refusal/refusal.exception.js';
import { CHECKERS, type Checker, type MakeChecker } from './checkers.js';

/** A railway to check timetables against, and what it is known by. */
export interface CheckedRailway {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly hashes: { readonly layout: string; readonly stock: string };
}

interface Asked {
  readonly answer: (check: TimetableCheck) => void;
  readonly refuse: (why: RefusalException) => void;
}

/** Questions that may wait at once; whoever drags a train asks one after another. */
const MOST_WAITING = 20;
/** Real ms without an answer after which a checker that was asked is given up. */
const LONGEST_SILENCE = 60_000;

/** Has timetables checked in a thread of its own, begun with the first question: the one that runs trains is not held up. */
@Injectable()
export class TimetableDesk implements OnModuleDestroy {
  #checker: Checker | null = null;
  /** What the checker has been told to check against. */
  #against = '';
  #last = 0;
  #silence: ReturnType<typeof setTimeout> | undefined;
  readonly #asked = new Map<number, Asked>();

  constructor(@Inject(CHECKERS) private readonly make: MakeChecker) {}

  check({ layout, stock, hashes }: CheckedRailway, timetable: TimetableFile) {
    return new Promise<TimetableCheck>((answer, refuse) => {
      if (this.#asked.size >= MOST_WAITING) {
        refuse(unavailable('Too many timetables are being checked. Try again in a moment.'));
        return;
      }
      const id = ++this.#last;
      this.#asked.set(id, { answer, refuse });
      try {
        const checker = (this.#checker ??= this.#begin());
        const against = `${hashes.layout} ${hashes.stock}`;
        if (against !== this.#against) checker.send({ kind: 'railway', layout, stock });
        this.#against = against;
        checker.send({ kind: 'check', id, timetable });
      } catch (error) {
        this.#asked.delete(id);
        throw error;
      }
      if (this.#asked.size === 1) this.#listen();
    });
  }

  onModuleDestroy(): void {
    clearTimeout(this.#silence);
    this.#checker?.close();
    this.#checker = null;
  }

  /** Waits for the next answer, as long as one is due. */
  #listen(): void {
    clearTimeout(this.#silence);
    if (this.#asked.size === 0) return;
    this.#silence = setTimeout(() => {
      this.#checker?.close();
      this.#lost(`it took longer than ${LONGEST_SILENCE / 1000} s`);
    }, LONGEST_SILENCE);
    this.#silence.unref();
  }

  #lost(why: string): void {
    clearTimeout(this.#silence);
    this.#checker = null;
    this.#against = '';
    const waiting = [...this.#asked.values()];
    this.#asked.clear();
    for (const { refuse } of waiting)
      refuse(unavailable(`The timetable could not be checked: ${why}.`));
  }

  #begin(): Checker {
    return this.make(
      ({ id, check }) => {
        this.#asked.get(id)?.answer(check);
        this.#asked.delete(id);
        this.#listen();
      },
      (why) => this.#lost(why),
    );
  }
}

const unavailable = (text: string): RefusalException =>
  new RefusalException(503, { code: 'not-checked', text });

import { parseClockText, type Command, type TimetableFile } from '@blockbell/railway';
import { forkStream, nextBetween, type RandomStream } from '@blockbell/simulation';
import type { Rehearsal, Restart } from '../rehearsal.js';

/** Most at a time: what is closed, and who drives by hand. */
const MOST_CLOSED = 2;
const MOST_DRIVEN = 2;
/** Inputs of so many ms at most are lost when the program is killed: what is assumed of it. */
const MOST_LOST = 500;
const MOST_RESTARTS = 2;

/** What a person has begun and will take back. */
interface Begun {
  readonly until: number;
  readonly back: readonly Command[];
}

/**
 * People who do as they please while a session runs, by seeded chance: they close track and reopen it, drive trains by hand at any
 * speed and give them back, take ways back and let the trains go on. They break no rule; what is refused is not done.
 */
export class PeopleAtWork {
  /** How many of each was done. */
  readonly counts = { closed: 0, driven: 0, givenBack: 0 };
  readonly #rehearsal: Rehearsal;
  readonly #chance: RandomStream;
  readonly #home: number;
  #closed: Begun[] = [];
  #driven: Begun[] = [];
  #heldBack: Begun[] = [];

  /** `home`: when they go home, physical ms. */
  constructor(rehearsal: Rehearsal, home: number, seed: number) {
    this.#rehearsal = rehearsal;
    this.#chance = forkStream(seed, 'people');
    this.#home = home;
  }

  /** To be called every so often: does something or nothing, and takes back what is due. Then they go home. */
  look(): void {
    const { now, state } = this.#rehearsal;
    const { kind } = state.session.phase;
    if (kind !== 'running' && kind !== 'ending') return;
    const isHome = now >= this.#home || kind === 'ending';
    this.#closed = this.#takeBack(this.#closed, isHome);
    this.#driven = this.#takeBack(this.#driven, isHome);
    this.#heldBack = this.#takeBack(this.#heldBack, isHome);
    if (isHome) return;
    switch (nextBetween(this.#chance, 0, 5)) {
      case 0:
        return this.#close();
      case 1:
        return this.#drive();
      case 2:
        return this.#giveBack();
      default:
    }
  }

  #takeBack(begun: readonly Begun[], isHome: boolean): Begun[] {
    const { now } = this.#rehearsal;
    const isDue = ({ until }: Begun): boolean => isHome || until <= now;
    for (const { back } of begun.filter(isDue)) for (const command of back) this.#give(command);
    return begun.filter((each) => !isDue(each));
  }

  #close(): void {
    const { elements } = this.#rehearsal.world.layout;
    const track = elements.filter(({ kind }) => kind !== 'buffer-stop' && kind !== 'polarity');
    const element = track[nextBetween(this.#chance, 0, track.length - 1)]!.index;
    const until = this.#in(40_000, 200_000);
    if (this.#closed.length >= MOST_CLOSED) return;
    if (!this.#give({ kind: 'close-track', element, reason: 'track work' })) return;
    this.counts.closed++;
    this.#closed.push({ until, back: [{ kind: 'reopen-track', element }] });
  }

  #drive(): void {
    const train = this.#anyTrain();
    const speed = nextBetween(this.#chance, 20, 300);
    const until = this.#in(30_000, 120_000);
    if (this.#driven.length >= MOST_DRIVEN) return;
    if (!this.#give({ kind: 'take-in-hand', train, take: true })) return;
    this.counts.driven++;
    this.#give({ kind: 'drive', train, speed });
    this.#driven.push({ until, back: [{ kind: 'take-in-hand', train, take: false }] });
  }

  #giveBack(): void {
    const train = this.#anyTrain();
    const until = this.#in(10_000, 60_000);
    if (!this.#give({ kind: 'give-back-route', train })) return;
    this.counts.givenBack++;
    this.#heldBack.push({ until, back: [{ kind: 'hold-train', train, hold: false }] });
  }

  #anyTrain(): number {
    return nextBetween(this.#chance, 0, this.#rehearsal.world.stock.trains.length - 1);
  }

  #in(least: number, most: number): number {
    return this.#rehearsal.now + nextBetween(this.#chance, least, most);
  }

  /** Whether the command was not refused. */
  #give(command: Command): boolean {
    return this.#rehearsal.command('people', command) === null;
  }
}

/** Moments of a session of so many physical ms at which its program is killed and started again. */
export function drawRestarts(length: number, seed: number): Restart[] {
  const chance = forkStream(seed, 'restarts');
  return Array.from({ length: nextBetween(chance, 0, MOST_RESTARTS) }, () => ({
    at: nextBetween(chance, 0, length),
    lost: nextBetween(chance, 0, MOST_LOST),
  }));
}

/** From the booked beginning of a session to its end, physical ms. */
export function bookedLength({ clock }: TimetableFile): number {
  const time = (text: string): number => parseClockText(text) ?? 0;
  return Math.round((time(clock.end) - time(clock.start)) / clock.ratio);
}

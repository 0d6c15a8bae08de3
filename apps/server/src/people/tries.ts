/** Wrong tries before there is a wait at all. */
const FREE_TRIES = 3;
/** The first wait, ms; each further wrong try doubles it. */
const FIRST_WAIT = 1_000;
/** Nobody's name can be barred for longer by those who guess at it, ms. */
const LONGEST_FOR_PERSON = 30_000;
const LONGEST_FOR_ADDRESS = 15 * 60_000;
/** After this long without a try everything is forgiven, ms. */
const FORGIVEN_AFTER = 60 * 60_000;
/** Names and addresses remembered at most. */
const REMEMBERED = 2_000;

interface Failures {
  count: number;
  /** When the next try is allowed, ms. */
  next: number;
  last: number;
}

/**
 * Slows down who guesses: a wait that grows with every wrong try, for the name that is tried and for the address it is tried
 * from. A try counts as wrong from its beginning, so that many at once gain nothing.
 */
export class Tries {
  private readonly failures = new Map<string, Failures>();

  /** `now` in ms, never going back. */
  constructor(private readonly now: () => number) {}

  /** Begins a try: null if it may be made, else how many ms to wait. */
  begin(person: string, address: string): number | null {
    const now = this.now();
    const keys = keysOf(person, address);
    const wait = Math.max(...keys.map(([key]) => (this.at(key, now)?.next ?? now) - now));
    if (wait > 0) return wait;
    for (const [key, longest] of keys) this.count(key, longest, now);
    return null;
  }

  /** The try was right. */
  succeed(person: string, address: string): void {
    for (const [key] of keysOf(person, address)) this.failures.delete(key);
  }

  private at(key: string, now: number): Failures | undefined {
    const found = this.failures.get(key);
    if (found === undefined || now - found.last < FORGIVEN_AFTER) return found;
    this.failures.delete(key);
    return undefined;
  }

  private count(key: string, longest: number, now: number): void {
    const count = (this.at(key, now)?.count ?? 0) + 1;
    const over = count - FREE_TRIES;
    const wait = over < 0 ? 0 : Math.min(longest, FIRST_WAIT * 2 ** Math.min(over, 20));
    // Put anew, so that the map's first is the one longest without a try.
    this.failures.delete(key);
    this.failures.set(key, { count, next: now + wait, last: now });
    if (this.failures.size <= REMEMBERED) return;
    const [oldest] = this.failures.keys();
    if (oldest !== undefined) this.failures.delete(oldest);
  }
}

const keysOf = (person: string, address: string): readonly (readonly [string, number])[] => [
  [`person ${person.toLowerCase()}`, LONGEST_FOR_PERSON],
  [`address ${address}`, LONGEST_FOR_ADDRESS],
];

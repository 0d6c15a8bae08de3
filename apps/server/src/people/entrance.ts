import { randomInt, timingSafeEqual } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import type { FirstSignUpMessage, PersonView, SignInMessage } from '@blockbell/contract';
import { SETTINGS, type Settings } from '../config/settings.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { People } from './people.js';
import { SignIns } from './sign-ins.js';
import { Tries } from './tries.js';

/** Letters and digits that nobody mistakes for one another. */
const CODE_LETTERS = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';
const CODE_LENGTH = 10;
/** The name under which tries at the code are counted; longer than a person's may be. */
const CODE_TRIES = 'the code for the first sign-up, which the server printed';

export interface Entered {
  readonly person: PersonView;
  /** For the browser to keep. */
  readonly token: string;
}

/** Lets people in: with name and passphrase, or the first builder with the code that the server printed. */
@Injectable()
export class Entrance {
  private readonly tries = new Tries(() => performance.now());
  /** Made anew at each start, worth something until there is a builder. */
  private readonly code = Array.from(
    { length: CODE_LENGTH },
    () => CODE_LETTERS[randomInt(CODE_LETTERS.length)],
  ).join('');

  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    @Inject(People) private readonly people: People,
    @Inject(SignIns) private readonly signIns: SignIns,
  ) {}

  /** Whether the first builder has yet to sign up. */
  get awaitsFirst(): boolean {
    return this.settings.open && !this.people.hasBuilder;
  }

  /** What the first builder types in, to be printed where only the server's owner sees it; null when it is not needed. */
  get firstCode(): string | null {
    return this.awaitsFirst ? `${this.code.slice(0, 5)}-${this.code.slice(5)}` : null;
  }

  async signIn({ name, passphrase }: SignInMessage, address: string): Promise<Entered> {
    this.begin(name, address);
    const person = await this.people.check(name, passphrase);
    if (person === null)
      throw new RefusalException(401, {
        code: 'wrong-passphrase',
        text: 'The name or the passphrase is not right.',
      });
    this.tries.succeed(name, address);
    return { person, token: await this.signIns.begin(person.id) };
  }

  async signUpFirst(message: FirstSignUpMessage, address: string): Promise<Entered> {
    const { code, name, passphrase } = message;
    if (!this.awaitsFirst) throw NOT_FIRST;
    this.begin(CODE_TRIES, address);
    if (!this.isCode(code))
      throw new RefusalException(401, {
        code: 'wrong-code',
        text: 'The code is not the one that the server printed at its latest start.',
      });
    const person = await this.people.add(name, 'builder', passphrase);
    this.tries.succeed(CODE_TRIES, address);
    return { person, token: await this.signIns.begin(person.id) };
  }

  private begin(who: string, address: string): void {
    const wait = this.tries.begin(who, address);
    if (wait === null) return;
    const seconds = Math.ceil(wait / 1000);
    throw new RefusalException(429, {
      code: 'too-many-tries',
      text: `There were too many wrong tries; wait ${seconds} second${seconds === 1 ? '' : 's'}, then try again.`,
    });
  }

  /** Compared in a time that tells nothing of how much of it is right. */
  private isCode(typed: string): boolean {
    const bare = Buffer.from(typed.toUpperCase().replaceAll(/[^A-Z0-9]/g, ''));
    const code = Buffer.from(this.code);
    return bare.length === code.length && timingSafeEqual(bare, code);
  }
}

const NOT_FIRST = new RefusalException(409, {
  code: 'not-first',
  text: 'The first builder has signed up already; ask a builder to add you.',
});

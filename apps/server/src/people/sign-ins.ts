import { createHash, randomBytes } from 'node:crypto';
import { Inject, Injectable, type OnModuleInit } from '@nestjs/common';
import { PersonStore } from '../storage/person-store.js';

/** How long somebody stays signed in, ms. */
export const SIGN_IN_LASTS = 7 * 24 * 60 * 60_000;
const TOKEN_LENGTH = 32;

/** One browser in which somebody is signed in. */
export interface SignIn {
  readonly tokenHash: string;
  readonly person: number;
  /** Wall-clock ms since 1970. */
  readonly expires: number;
}

type Listener = (ended: SignIn) => void;

/** Who is signed in where. All are kept at hand, and written through; of tokens only hashes are kept. */
@Injectable()
export class SignIns implements OnModuleInit {
  private readonly byHash = new Map<string, SignIn>();
  private readonly listeners: Listener[] = [];

  constructor(@Inject(PersonStore) private readonly store: PersonStore) {}

  async onModuleInit(): Promise<void> {
    for (const { tokenHash, person, expiresAt } of await this.store.allSignIns())
      this.byHash.set(tokenHash, { tokenHash, person, expires: Date.parse(expiresAt) });
    for (const { tokenHash, expires } of this.byHash.values())
      if (expires <= Date.now()) await this.end(tokenHash);
  }

  /** Signs a person in; returns the token for their browser. */
  async begin(person: number): Promise<string> {
    const token = randomBytes(TOKEN_LENGTH).toString('base64url');
    const signIn = { tokenHash: hashOf(token), person, expires: Date.now() + SIGN_IN_LASTS };
    const expiresAt = new Date(signIn.expires).toISOString();
    await this.store.addSignIn({ tokenHash: signIn.tokenHash, person, expiresAt });
    this.byHash.set(signIn.tokenHash, signIn);
    return token;
  }

  /** The sign-in that a token belongs to, or null if there is none or it has expired. */
  find(token: string): SignIn | null {
    const found = this.byHash.get(hashOf(token));
    return found !== undefined && this.holds(found) ? found : null;
  }

  /** Whether it neither ended nor expired. */
  holds({ tokenHash, expires }: SignIn): boolean {
    return this.byHash.has(tokenHash) && expires > Date.now();
  }

  async end(tokenHash: string): Promise<void> {
    const found = this.byHash.get(tokenHash);
    if (found === undefined) return;
    this.byHash.delete(tokenHash);
    await this.store.removeSignIn(tokenHash);
    for (const tell of this.listeners) tell(found);
  }

  async endAllOf(person: number): Promise<void> {
    const ended = [...this.byHash.values()].filter((signIn) => signIn.person === person);
    for (const { tokenHash } of ended) this.byHash.delete(tokenHash);
    await this.store.removeSignInsOf(person);
    for (const signIn of ended) for (const tell of this.listeners) tell(signIn);
  }

  /** Tells of every sign-in that ends otherwise than by its time. */
  onEnd(listener: Listener): void {
    this.listeners.push(listener);
  }
}

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

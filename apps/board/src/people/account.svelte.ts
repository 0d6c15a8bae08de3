import { answerMessage, mayDo, whoView } from '@blockbell/contract/messages';
import type {
  Act,
  CommandMessage,
  FirstSignUpMessage,
  PersonView,
  SessionView,
  SignInMessage,
  WhoView,
} from '@blockbell/contract/messages';
import { createContext } from 'svelte';
import { request } from './requests.js';

type Command = CommandMessage['command'];

/** Pause before the server is asked again, ms. */
const PAUSE = 1000;

/** Who is at this page, and what they may do. Where nobody signs in, everybody may do everything. */
export class Account {
  /** Null until the server has said it. */
  who = $state.raw<WhoView | null>(null);
  /** Why it has not been said yet. */
  trouble = $state.raw<string | null>(null);

  get person(): PersonView | null {
    return this.who?.person ?? null;
  }

  /** The name things are done under: that of who is signed in, else the one given at this page. */
  nameOr(given: string | null): string {
    return this.person?.name ?? given ?? 'dispatcher';
  }

  /** Whether people sign in on this server. */
  get signsIn(): boolean {
    return this.who?.signIn ?? false;
  }

  /** Whether this page may show the session: somebody is signed in, or nobody needs to be. */
  get entered(): boolean {
    return this.who !== null && (!this.who.signIn || this.who.person !== null);
  }

  /** Whether this person commands nothing at all. */
  get onlyLooks(): boolean {
    return this.person?.role === 'visitor';
  }

  /** Asks the server who is signed in, until it answers. */
  async ask(): Promise<void> {
    for (;;) {
      const asked = await request('GET', 'sign-in', whoView);
      if (asked.ok) {
        this.who = asked.answer;
        this.trouble = null;
        return;
      }
      this.trouble = `${asked.why} Trying again.`;
      await new Promise((resolve) => setTimeout(resolve, PAUSE));
    }
  }

  /** Null once signed in, else why not. */
  signIn(message: SignInMessage): Promise<string | null> {
    return this.#enter('sign-in', message);
  }

  signUpFirst(message: FirstSignUpMessage): Promise<string | null> {
    return this.#enter('sign-in/first', message);
  }

  /** Null once signed out, else why not. */
  async signOut(): Promise<string | null> {
    const asked = await request('POST', 'sign-in/out', answerMessage, {});
    if (!asked.ok) return asked.why;
    await this.ask();
    return null;
  }

  /** Whether this person may do so; `own` says whether with the train that they drive. */
  may(act: Act, own = false): boolean {
    if (!this.signsIn) return true;
    return this.person !== null && mayDo(this.person.role, act, own);
  }

  /** Whether this person may give the command in this session. */
  mayGive(command: Command, session: SessionView | null): boolean {
    return this.may(command.kind, 'train' in command && this.drives(command.train, session));
  }

  drives(train: number, session: SessionView | null): boolean {
    return this.trainIn(session) === train;
  }

  /** The train that this person is crew of, or null. */
  trainIn(session: SessionView | null): number | null {
    const name = this.person?.name;
    return session?.crews.find((crew) => crew.name === name)?.train ?? null;
  }

  async #enter(path: string, message: object): Promise<string | null> {
    const asked = await request('POST', path, whoView, message);
    if (asked.ok) this.who = asked.answer;
    return asked.ok ? null : asked.why;
  }
}

/** Who is at the page a component stands on. */
export const [useAccount, provideAccount] = createContext<Account>();

import {
  routeTrialView,
  type RouteTrialMessage,
  type RouteTrialView,
} from '@blockbell/contract/messages';
import { request } from '../people/requests.js';

/** A trial that goes on, or the last one. */
export type Trial = NonNullable<RouteTrialView['trial']>;

/** How often a trial that goes on is asked about, real ms. */
const INTERVAL = 500;
/** The same while none goes on: somebody else may begin one. */
const IDLE_INTERVAL = 5000;

/** Has the server try routes, and follows how it goes. */
export class TrialDesk {
  /** Null: none was begun. */
  trial = $state.raw<Trial | null>(null);
  /** Why the server could not be asked. */
  trouble = $state.raw<string | null>(null);

  #timer: ReturnType<typeof setTimeout> | undefined;
  #askAgain = (): void => {};

  get isRunning(): boolean {
    return this.trial?.state === 'running';
  }

  /** Asks at once and again, more seldom while no trial goes on, until the returned function is called. */
  follow(): () => void {
    const leaving = new AbortController();
    const ask = async (): Promise<void> => {
      await this.#ask('GET', undefined, leaving.signal);
      if (leaving.signal.aborted) return;
      this.#timer = setTimeout(this.#askAgain, this.isRunning ? INTERVAL : IDLE_INTERVAL);
    };
    this.#askAgain = () => void ask();
    void ask();
    return () => {
      clearTimeout(this.#timer);
      leaving.abort();
    };
  }

  /** Null, or why not. */
  async begin(message: Partial<RouteTrialMessage>): Promise<string | null> {
    const refusal = await this.#ask('POST', message);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(this.#askAgain, INTERVAL);
    return refusal;
  }

  /** Null, or why not. */
  breakOff(): Promise<string | null> {
    return this.#ask('DELETE');
  }

  async #ask(
    method: 'GET' | 'POST' | 'DELETE',
    message?: object,
    signal: AbortSignal | null = null,
  ): Promise<string | null> {
    const asked = await request(method, 'trial', routeTrialView, message, signal);
    if (signal?.aborted) return null;
    if (asked.ok) this.trial = asked.answer.trial;
    if (method === 'GET') this.trouble = asked.ok ? null : asked.why;
    return asked.ok ? null : asked.why;
  }
}

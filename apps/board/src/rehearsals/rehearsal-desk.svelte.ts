import {
  rehearsalsView,
  type DisturbancesFile,
  type RehearsalsMessage,
  type RehearsalsView,
} from '@blockbell/contract/messages';
import { request } from '../people/requests.js';

/** Rehearsals that go on, or the last ones. */
export type Rehearsals = NonNullable<RehearsalsView['rehearsals']>;

/** How often rehearsals that go on are asked about, real ms. */
const INTERVAL = 1000;

/** Has the server rehearse sessions, and follows how they go. */
export class RehearsalDesk {
  /** Null: none were begun. */
  rehearsals = $state.raw<Rehearsals | null>(null);
  /** What goes wrong where nothing else is said; null until the server has told. */
  usual = $state.raw<DisturbancesFile | null>(null);
  /** Why the server could not be asked. */
  trouble = $state.raw<string | null>(null);

  get isRunning(): boolean {
    return this.rehearsals?.state === 'running';
  }

  /** Asks at once and from time to time, until the returned function is called. */
  follow(): () => void {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const leaving = new AbortController();
    const ask = async (): Promise<void> => {
      await this.#ask('GET', undefined, leaving.signal);
      if (!leaving.signal.aborted) timer = setTimeout(() => void ask(), INTERVAL);
    };
    void ask();
    return () => {
      clearTimeout(timer);
      leaving.abort();
    };
  }

  /** Null, or why not. */
  begin(message: Partial<RehearsalsMessage>): Promise<string | null> {
    return this.#ask('POST', message);
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
    const asked = await request(method, 'rehearsals', rehearsalsView, message, signal);
    if (signal?.aborted) return null;
    if (asked.ok) {
      this.rehearsals = asked.answer.rehearsals;
      this.usual ??= asked.answer.usual;
    }
    if (method === 'GET') this.trouble = asked.ok ? null : asked.why;
    return asked.ok ? null : asked.why;
  }
}

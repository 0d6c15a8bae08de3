import { whatIfView, type Lever, type WhatIfView } from '@blockbell/contract/messages';
import { request } from '../people/requests.js';

/** What a command would change, as far as it is known. */
export type EffectState =
  | { readonly kind: 'not-asked' }
  | { readonly kind: 'asked' }
  | { readonly kind: 'told'; readonly effect: WhatIfView }
  /** It can't be told; in words. */
  | { readonly kind: 'untold'; readonly why: string };

/** One question at a time about what a command would change; whoever asks another one takes the first back. */
export class Effect {
  state = $state.raw<EffectState>({ kind: 'not-asked' });
  #asked: AbortController | null = null;

  async ask(command: Lever): Promise<void> {
    this.leave();
    const asked = new AbortController();
    this.#asked = asked;
    this.state = { kind: 'asked' };
    const answer = await request('POST', 'what-if', whatIfView, { command }, asked.signal);
    if (this.#asked !== asked) return;
    this.state = answer.ok
      ? { kind: 'told', effect: answer.answer }
      : { kind: 'untold', why: answer.why };
  }

  /** Takes the question back, or puts its answer away. */
  leave(): void {
    this.#asked?.abort();
    this.#asked = null;
    this.state = { kind: 'not-asked' };
  }
}

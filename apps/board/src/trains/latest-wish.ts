/**
 * Sends the newest of many wishes, one message at a time, so that a lever that is dragged does not flood the link. A wish
 * that cannot wait goes out at once, past the one whose answer is due.
 */
export class LatestWish {
  #send: (wish: number) => Promise<boolean>;
  #wish: number | null = null;
  #underway = 0;

  /** `send` answers whether the wish was accepted. */
  constructor(send: (wish: number) => Promise<boolean>) {
    this.#send = send;
  }

  /** Whether no answer is due. */
  get settled(): boolean {
    return this.#underway === 0;
  }

  /** Whether the newest wish was accepted; false at once where it is left to a sending that is under way. */
  async ask(wish: number, urgent = false): Promise<boolean> {
    this.#wish = wish;
    if (!this.settled && !urgent) return false;
    this.#underway++;
    let sent: number | null = null;
    while (this.#wish !== null && this.#wish !== sent) {
      sent = this.#wish;
      if (!(await this.#send(sent)) && this.#wish === sent) this.#wish = null;
    }
    this.#underway--;
    return this.#wish !== null;
  }
}

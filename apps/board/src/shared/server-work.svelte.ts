import { request, type Schema } from '../people/requests.js';

/** How often work that goes on is asked about, real ms. */
const INTERVAL = 500;
/** The same while none goes on: somebody else may begin some. */
const IDLE_INTERVAL = 5000;

/** Work that the server does in the background: begun and broken off from here, and followed wherever it was begun. */
export class ServerWork<Answer, Message extends object> {
  /** What the server last said of it; null until it has answered. */
  answer = $state.raw<Answer | null>(null);
  /** Why the server could not be asked. */
  trouble = $state.raw<string | null>(null);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isFollowed = false;
  /** Number of the last question, and of the one whose answer is shown: a late answer is older than what is shown. */
  #asked = 0;
  #shown = 0;

  /** `path`: below /api; it is begun by POST, asked about by GET, broken off by DELETE, and each answers with how it stands. */
  constructor(
    private readonly path: string,
    private readonly schema: Schema<Answer>,
    private readonly goesOn: (answer: Answer) => boolean,
  ) {}

  get isRunning(): boolean {
    return this.answer !== null && this.goesOn(this.answer);
  }

  /** Asks at once and again, more seldom while nothing goes on, until the returned function is called. */
  follow(): () => void {
    this.#isFollowed = true;
    void this.#askAgain();
    return () => {
      this.#isFollowed = false;
      clearTimeout(this.#timer);
    };
  }

  /** Null, or why not. */
  begin(message: Message): Promise<string | null> {
    return this.#ask('POST', message);
  }

  /** Null, or why not. */
  breakOff(): Promise<string | null> {
    return this.#ask('DELETE');
  }

  async #askAgain(): Promise<void> {
    this.trouble = await this.#ask('GET');
  }

  async #ask(method: 'GET' | 'POST' | 'DELETE', message?: Message): Promise<string | null> {
    clearTimeout(this.#timer);
    const number = ++this.#asked;
    const asked = await request(method, this.path, this.schema, message);
    if (asked.ok && number > this.#shown) {
      this.answer = asked.answer;
      this.#shown = number;
    }
    if (this.#isFollowed && number === this.#asked)
      this.#timer = setTimeout(
        () => void this.#askAgain(),
        this.isRunning ? INTERVAL : IDLE_INTERVAL,
      );
    return asked.ok ? null : asked.why;
  }
}

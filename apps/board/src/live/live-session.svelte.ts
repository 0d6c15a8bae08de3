import { answerMessage, deltaMessage, EVENTS, NOT_SIGNED_IN } from '@blockbell/contract/messages';
import type { AnswerMessage, CommandMessage, DeltaMessage } from '@blockbell/contract/messages';
import { io } from 'socket.io-client';
import type { Socket } from 'socket.io-client';
import { continues, mergeRows, replaceRows, revisionOf } from './live-rows.js';
import type { Revision } from './live-rows.js';
import type { Picture } from './picture.js';
import { RailwayFetch } from './railway-fetch.js';
import { ReactiveRows } from './reactive-rows.svelte.js';
import { readSnapshot } from './read-snapshot.js';
import { addedFrom, addedText, loadRailway, withAddedWork } from './session-files.js';
import type { Railway } from './session-files.js';
import type { TimeAnchor } from './time-estimate.js';
import { whenIdle } from '../shared/when-idle.js';

/** How long an answer to a command may take, ms. */
const ANSWER_PATIENCE = 5000;
/** Pause before the session's files are asked for again, ms. */
const RELOAD_PAUSE = 2000;
/** How long what was heard may wait for a frame, ms. */
const LATEST = 250;

interface HeardDelta {
  readonly delta: DeltaMessage;
  /** When it came, monotonic ms. */
  readonly at: number;
}

type Command = CommandMessage['command'];
type Refusal = Extract<AnswerMessage, { ok: false }>['refusal'];

const NO_LINK: Refusal = {
  code: 'no-connection',
  text: 'The server cannot be reached; nothing was sent. Use the hand-operated power cut if trains must stop now.',
};
const NO_ANSWER: Refusal = {
  code: 'no-answer',
  text: 'The server did not answer in time; whether it was done shows on the board once the connection is back.',
};

const OTHER_VERSION = 'The server speaks another version than this page: load the page again.';

/** The connection to the server and the live copy of the session. */
export class LiveSession implements Picture {
  readonly rows = new ReactiveRows();
  #loaded = $state.raw<Railway | null>(null);
  readonly #added = $derived(addedText(this.rows.session));
  /** Rows of one session say nothing of another's railway. */
  readonly #own: Railway | null = $derived(
    this.#loaded?.session === this.rows.session?.id ? this.#loaded : null,
  );
  readonly railway: Railway | null = $derived(
    this.#own && withAddedWork(this.#own, addedFrom(this.#added)),
  );
  connected = $state(false);
  /** Monotonic ms; null while connected or before the first connection. */
  lostAt = $state<number | null>(null);
  resyncAskedAt = $state<number | null>(null);
  anchor = $state.raw<TimeAnchor>({ now: 0, receivedAt: 0, pace: 0 });

  /** Why the session's files are not there. */
  #filesTrouble = $state.raw<string | null>(null);
  /** Why what the server says can't be read. */
  #speechTrouble = $state.raw<string | null>(null);
  /** What the rows show. */
  #have: Revision | null = null;
  /** What was heard last: the rows, and after them the deltas that wait. */
  #heard: Revision | null = null;
  /** Deltas that continue what we have, oldest first, until the next frame takes them in. */
  #waiting: HeardDelta[] = [];
  /** Calls off the rest of the check of the newest snapshot. */
  #stopCheck = (): void => {};
  /** Whether a snapshot came since the last frame. */
  #renewed = false;
  #socket: Socket;
  readonly #fetch = new RailwayFetch(
    () => loadRailway(),
    () => new Promise((resolve) => setTimeout(resolve, RELOAD_PAUSE)),
    {
      arrived: (railway) => {
        this.#filesTrouble = null;
        this.#loaded = railway;
        // Another session may have begun that we have not heard of yet.
        if (this.railway === null && this.rows.session) this.#socket.emit(EVENTS.resync);
      },
      failed: (why) => {
        this.#filesTrouble = `The session's files could not be loaded: ${why} Trying again.`;
      },
    },
  );

  /** `dismissed`: the server let this page go, or never in; who is at it is to be asked anew. */
  constructor(dismissed: () => void) {
    this.#socket = io({
      autoConnect: false,
      reconnectionDelay: 500,
      reconnectionDelayMax: 2000,
      // The picture is there sooner without polling first; a network that lets no web socket through is still served.
      transports: ['websocket', 'polling'],
      tryAllTransports: true,
    });
    this.#socket.on('connect', () => {
      this.connected = true;
      this.lostAt = null;
    });
    this.#socket.on('disconnect', (reason) => {
      this.connected = false;
      this.lostAt ??= performance.now();
      this.takeIn();
      this.#have = this.#heard = null;
      // Told to go by the server, socket.io leaves it to us to come back.
      if (reason === 'io server disconnect') dismissed();
    });
    this.#socket.on('connect_error', ({ message }) => {
      if (message === NOT_SIGNED_IN) dismissed();
    });
    this.#socket.on(EVENTS.snapshot, (message: unknown) => this.#onSnapshot(message));
    this.#socket.on(EVENTS.delta, (message: unknown) => this.#onDelta(message));
  }

  /** Why there is no picture, or an old one. */
  get trouble(): string | null {
    return this.#speechTrouble ?? this.#filesTrouble;
  }

  /** Connects, and loads the session's files meanwhile; tries again until it succeeds. */
  open(): void {
    this.#socket.connect();
    void this.#fetch.begin();
  }

  /** Shows nothing any more. */
  close(): void {
    this.#fetch.giveUp();
    this.#filesTrouble = null;
    this.#socket.disconnect();
    this.rows.session = null;
    this.#loaded = null;
    this.lostAt = null;
  }

  /** Null when accepted, else why not. */
  command(by: string, command: Command): Promise<Refusal | null> {
    const seen = this.#have === null ? {} : { seen: this.#have };
    return this.#ask(EVENTS.command, { by, command, ...seen });
  }

  takeIn(): boolean {
    const waiting = this.#waiting;
    const last = waiting.at(-1);
    const renewed = this.#renewed;
    this.#renewed = false;
    if (!last) return renewed;
    this.#waiting = [];
    for (const { delta } of waiting) mergeRows(this.rows, delta.rows);
    this.#have = revisionOf(last.delta);
    this.#anchorAt(last.delta.now, last.at);
    return true;
  }

  setPace(by: string, pace: number): Promise<Refusal | null> {
    return this.#ask(EVENTS.pace, { by, pace });
  }

  async #ask(event: string, message: object): Promise<Refusal | null> {
    if (!this.connected) return NO_LINK;
    try {
      const answer = answerMessage.parse(
        await this.#socket.timeout(ANSWER_PATIENCE).emitWithAck(event, message),
      );
      return answer.ok ? null : answer.refusal;
    } catch {
      return NO_ANSWER;
    }
  }

  #onSnapshot(message: unknown): void {
    const read = readSnapshot(message);
    if (read === null) {
      this.#speechTrouble = OTHER_VERSION;
      return;
    }
    const { snapshot, checkOn } = read;
    const goOn = (): void => {
      const isLeft = checkOn();
      if (isLeft === null) this.#speechTrouble = OTHER_VERSION;
      else if (isLeft) this.#stopCheck = whenIdle(goOn);
    };
    this.#stopCheck();
    this.#stopCheck = whenIdle(goOn);
    this.#waiting = [];
    this.#renewed = true;
    replaceRows(this.rows, snapshot);
    this.#have = this.#heard = revisionOf(snapshot);
    this.resyncAskedAt = null;
    this.#speechTrouble = null;
    this.#anchorAt(snapshot.now, performance.now());
    if (this.#loaded !== null && this.railway === null) void this.#fetch.begin();
  }

  #onDelta(message: unknown): void {
    const parsed = deltaMessage.safeParse(message);
    if (parsed.success && continues(this.#heard, parsed.data)) {
      this.#heard = revisionOf(parsed.data);
      this.#waiting.push({ delta: parsed.data, at: performance.now() });
      // A page that nobody sees is drawn no frames.
      if (this.#waiting.length === 1) setTimeout(() => this.takeIn(), LATEST);
      return;
    }
    if (this.resyncAskedAt !== null) return;
    this.resyncAskedAt = performance.now();
    this.#socket.emit(EVENTS.resync);
  }

  #anchorAt(now: number, receivedAt: number): void {
    this.anchor = { now, receivedAt, pace: this.rows.session?.pace ?? 1 };
  }
}

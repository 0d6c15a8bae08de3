import type { RecordingIndex, RecordingPart } from '@blockbell/contract/messages';
import type { Picture } from '../live/picture.js';
import { ReactiveRows } from '../live/reactive-rows.svelte.js';
import { addedFrom, addedText, loadRailway, withAddedWork } from '../live/session-files.js';
import type { Railway } from '../live/session-files.js';
import type { TimeAnchor } from '../live/time-estimate.js';
import { fetchIndex } from './fetch-recording.js';
import { PartPlayer } from './part-player.js';
import { PartShelf } from './part-shelf.js';
import { sessionReport } from './session-report.js';
import type { SessionReport } from './session-report.js';
import { Timeline, type MarkKind } from './timeline.js';

export const SPEEDS = [1, 5, 20, 60] as const;

/** A stored session that is looked at again: rows and time come from its recording, not from the server's socket. */
export class Recording implements Picture {
  readonly rows = new ReactiveRows();
  readonly connected = true;
  readonly lostAt = null;
  readonly resyncAskedAt = null;
  #loaded = $state.raw<Railway | null>(null);
  readonly #added = $derived(addedText(this.rows.session));
  readonly railway: Railway | null = $derived(
    this.#loaded && withAddedWork(this.#loaded, addedFrom(this.#added)),
  );
  anchor = $state.raw<TimeAnchor>({ now: 0, receivedAt: 0, pace: 0 });
  index = $state.raw<RecordingIndex | null>(null);
  timeline = $state.raw<Timeline | null>(null);
  report = $state.raw<SessionReport | null>(null);
  /** Why there is nothing to see. */
  trouble = $state.raw<string | null>(null);
  /** Ms from the beginning of what is kept. */
  position = $state(0);
  playing = $state(false);
  speed = $state(5);

  readonly #session: number;
  readonly #player = new PartPlayer(this.rows);
  readonly #shelf: PartShelf;
  #run = 0;
  /** Counts what was asked for: an answer that comes too late is not shown. */
  #asked = 0;
  #waiting = false;
  /** Whether another moment was gone to since the last frame. */
  #sought = false;

  constructor(session: number) {
    this.#session = session;
    this.#shelf = new PartShelf(session);
  }

  /** Fetches what is needed and shows the beginning. */
  async open(): Promise<void> {
    try {
      const index = await fetchIndex(this.#session);
      const railway = await loadRailway(`/api/sessions/${this.#session}/files`);
      this.index = index;
      this.#loaded = railway;
      this.timeline = new Timeline(index);
      await this.seek(0);
      const last = index.parts.at(-1);
      if (last) this.report = await this.#reportFrom(last.part, index, railway);
    } catch (error) {
      this.trouble = textOf(error);
    }
  }

  /** Shows a position; goes on playing from there if it played. */
  async seek(position: number): Promise<void> {
    const { timeline } = this;
    const moment = timeline?.momentAt(position) ?? null;
    if (timeline === null || moment === null) return;
    this.position = Math.max(0, Math.min(timeline.length, position));
    const asked = ++this.#asked;
    this.#waiting = true;
    this.anchor = { ...this.anchor, pace: 0 };
    try {
      const part = this.#shelf.held(moment.part) ?? (await this.#shelf.fetch(moment.part));
      if (asked !== this.#asked) return;
      this.#show(part, moment.run, moment.at);
      this.#sought = true;
      this.trouble = null;
    } catch (error) {
      if (asked !== this.#asked) return;
      this.playing = false;
      this.trouble = `This stretch could not be fetched: ${textOf(error)}`;
    } finally {
      if (asked === this.#asked) this.#waiting = false;
    }
    this.#anchorAt(moment.at);
  }

  play(): void {
    if (this.timeline === null) return;
    this.playing = true;
    if (this.position >= this.timeline.length) void this.seek(0);
    else this.#anchorAt(this.#now());
  }

  pause(): void {
    const now = this.#now();
    this.playing = false;
    this.#anchorAt(now);
  }

  toggle(): void {
    if (this.playing) this.pause();
    else this.play();
  }

  setSpeed(speed: number): void {
    const now = this.#now();
    this.speed = speed;
    this.#anchorAt(now);
  }

  /** Goes by so many ms of session time. */
  async move(by: number): Promise<void> {
    await this.seek(this.position + by);
  }

  /** To the next alarm or decision, or the one before; false when there is none. */
  stepMark(what: MarkKind, direction: 1 | -1): boolean {
    const mark = this.timeline?.markFrom(what, this.position, direction) ?? null;
    if (mark === null) return false;
    void this.seek(mark.position);
    return true;
  }

  goneElsewhere(): boolean {
    const sought = this.#sought;
    this.#sought = false;
    return sought;
  }

  /** Before a moment is drawn: what had changed by then comes in. */
  reach(now: number): void {
    const { timeline } = this;
    if (timeline === null || !this.playing || this.#waiting) return;
    const position = timeline.positionAfter(this.#run, now);
    if (position >= timeline.length) {
      this.playing = false;
      void this.seek(timeline.length);
      return;
    }
    const moment = timeline.momentAt(position);
    if (moment === null) return;
    const part = this.#shelf.held(moment.part);
    if (part === null || moment.run !== this.#run) {
      void this.seek(position);
      return;
    }
    this.position = position;
    this.#show(part, moment.run, moment.at);
  }

  #show(part: RecordingPart, run: number, at: number): void {
    this.#run = run;
    this.#player.show(part, at);
    for (const number of [part.part + 1, part.part - 1]) {
      const next = this.index?.parts[number];
      if (next) this.#shelf.prepare(next.part);
    }
  }

  #now(): number {
    return this.timeline?.momentAt(this.position)?.at ?? 0;
  }

  #anchorAt(now: number): void {
    const pace = this.playing && !this.#waiting ? this.speed : 0;
    this.anchor = { now, receivedAt: performance.now(), pace };
  }

  async #reportFrom(last: number, index: RecordingIndex, railway: Railway): Promise<SessionReport> {
    const rows = new ReactiveRows();
    const part = await this.#shelf.fetch(last);
    new PartPlayer(rows).show(part, Infinity);
    const whole = withAddedWork(railway, addedFrom(addedText(rows.session)));
    return sessionReport(whole, [...rows.runs.values()], index.marks);
  }
}

const textOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

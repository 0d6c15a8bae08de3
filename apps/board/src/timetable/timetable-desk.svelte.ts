import {
  answerMessage,
  storedFileAnswer,
  timetableCheckView,
  type TimetableCheckView,
} from '@blockbell/contract/messages';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { request } from '../people/requests.js';

interface SessionFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

/** A timetable being worked on: what it was, what it is now, and what the server finds in it. */
export class TimetableDesk {
  /** Null until it has been fetched. */
  file = $state.raw<TimetableFile | null>(null);
  /** As the session has it. */
  original = $state.raw<TimetableFile | null>(null);
  check = $state.raw<TimetableCheckView | null>(null);
  /** Whether the check shown is older than the timetable. */
  checking = $state(false);
  trouble = $state.raw<string | null>(null);
  /** What was kept last: its hash and the timetable. */
  kept = $state.raw<{ readonly hash: string; readonly file: TimetableFile } | null>(null);
  #before = $state.raw<readonly TimetableFile[]>([]);
  #files: SessionFiles | null = null;
  #asked: TimetableFile | null = null;

  get mayUndo(): boolean {
    return this.#before.length > 0;
  }

  async fetch(): Promise<void> {
    try {
      const response = await fetch('/api/session/files', {
        headers: { accept: 'application/json' },
      });
      if (!response.ok) throw new Error(`the server answered ${response.status}`);
      const files = (await response.json()) as SessionFiles;
      this.#files = files;
      this.original = files.timetable;
      this.#before = [];
      this.trouble = null;
      this.show(files.timetable);
    } catch (error) {
      this.trouble = error instanceof Error ? error.message : String(error);
    }
  }

  /** Shows a timetable and has it checked, as while it is dragged; {@link change} makes it count. */
  show(file: TimetableFile): void {
    if (file === this.file) return;
    this.file = file;
    void this.#ask();
  }

  /** Takes a change of the timetable `before`, so that it can be undone. */
  change(before: TimetableFile, after: TimetableFile): void {
    if (before !== after) this.#before = [...this.#before, before];
    this.show(after);
  }

  undo(): void {
    const before = this.#before.at(-1);
    if (before === undefined) return;
    this.#before = this.#before.slice(0, -1);
    this.show(before);
  }

  /** Keeps the timetable under a name, beside the other files. Null, or why not. */
  async keep(name: string): Promise<string | null> {
    if (this.file === null) return null;
    const file: TimetableFile = { ...this.file, name };
    const asked = await request('POST', 'files', storedFileAnswer, file);
    if (!asked.ok) return asked.why;
    this.kept = { hash: asked.answer.file.hash, file };
    return null;
  }

  /** Begins a session on the timetable kept last. Null, or why not. */
  async begin(by: string): Promise<string | null> {
    if (this.kept === null || this.#files === null) return null;
    const { layout, stock } = this.#files;
    const files = { layout, stock, timetable: this.kept.hash };
    const asked = await request('POST', 'session', answerMessage, { by, files });
    return asked.ok ? null : asked.why;
  }

  /** Asks for the newest timetable, one question at a time. */
  async #ask(): Promise<void> {
    if (this.checking) return;
    this.checking = true;
    while (this.file !== null && this.file !== this.#asked) {
      const { file } = this;
      this.#asked = file;
      const asked = await request('POST', 'timetables/check', timetableCheckView, {
        timetable: file,
      });
      this.trouble = asked.ok ? null : asked.why;
      if (asked.ok) this.check = asked.answer;
    }
    this.checking = false;
  }
}

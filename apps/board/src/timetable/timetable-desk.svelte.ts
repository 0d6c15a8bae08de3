import {
  storedFileAnswer,
  timetableCheckView,
  type TimetableCheckView,
} from '@blockbell/contract/messages';
import type { TimetableFile } from '@blockbell/railway';
import { changesBetween } from '@blockbell/timetabling';
import type { SessionFiles } from '../live/session-files.js';
import { request } from '../people/requests.js';
import { begin } from '../review/begin-again.js';
import { keyFindings, type KeyedFinding } from './finding-words.js';

/** What the server found, each finding with its key. */
export interface DeskCheck {
  readonly faults: TimetableCheckView['faults'];
  readonly findings: readonly KeyedFinding[];
}

/** A timetable being worked on: what it was, what it is now, and what the server finds in it. */
export class TimetableDesk {
  /** Null until there is a session. */
  file = $state.raw<TimetableFile | null>(null);
  /** Id of the session whose timetable it was. */
  session = $state.raw<string | null>(null);
  /** Null while there is none of any version near this one. */
  check = $state.raw<DeskCheck | null>(null);
  /** Whether the check shown is older than the timetable. */
  checking = $state(false);
  /** Why it could not be checked. */
  unchecked = $state.raw<string | null>(null);
  /** What was kept last, and under which name. */
  kept = $state.raw<{
    readonly hash: string;
    readonly name: string;
    readonly file: TimetableFile;
  } | null>(null);
  /** As the session has it. */
  #original = $state.raw<TimetableFile | null>(null);
  #before = $state.raw<readonly TimetableFile[]>([]);
  #files: SessionFiles | null = null;
  #asked: TimetableFile | null = null;

  get mayUndo(): boolean {
    return this.#before.length > 0;
  }

  /** How many times differ from the session's. */
  get changed(): number {
    const { file } = this;
    if (file === null || this.#original === null) return 0;
    return changesBetween(this.#original, file).length;
  }

  /** Whether what was kept last is the timetable as it is now. */
  get isKept(): boolean {
    return this.kept !== null && this.kept.file === this.file;
  }

  /** This session runs: its timetable is taken, unless times were changed that are kept nowhere. */
  attend(session: string, files: SessionFiles): void {
    if (this.session === session) return;
    if (this.changed === 0 || this.isKept) {
      this.take(session, files);
      return;
    }
    // They are checked on the railway that runs, and a session begun with them runs on it.
    this.#files = files;
    this.checkAgain();
  }

  /** Takes the timetable of the session that runs, whatever was changed. */
  take(session: string, files: SessionFiles): void {
    this.#files = files;
    this.session = session;
    this.#original = files.timetable;
    this.#before = [];
    this.kept = null;
    this.show(files.timetable);
  }

  /** Has the timetable checked anew, as after a failure. */
  checkAgain(): void {
    this.#asked = null;
    void this.#ask();
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
    const { file } = this;
    if (file === null) return null;
    const asked = await request('POST', 'files', storedFileAnswer, { ...file, name });
    if (!asked.ok) return asked.why;
    this.kept = { hash: asked.answer.file.hash, name, file };
    return null;
  }

  /** Begins a session on the timetable kept last. Null, or why not. */
  async begin(by: string): Promise<string | null> {
    if (this.kept === null || this.#files === null) return null;
    const { layout, stock } = this.#files;
    const files = { layout, stock, timetable: this.kept.hash };
    return begin({ by, files });
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
      this.unchecked = asked.ok ? null : asked.why;
      this.check = asked.ok
        ? { faults: asked.answer.faults, findings: keyFindings(asked.answer.findings) }
        : null;
    }
    this.checking = false;
  }
}

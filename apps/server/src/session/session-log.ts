import type { LogView } from '@blockbell/contract';

/** Lines that a board which connects is given. */
export const LOG_KEPT = 500;

/** A line as it was before it got its number. */
export type EarlierLine = Omit<LogView, 'number'>;

/** The last lines of what a session decided, and those a board hasn't seen yet. */
export class SessionLog {
  private readonly kept: LogView[];
  private unsent: LogView[] = [];
  private nextNumber: number;

  /** `earlier`: what the session's log said before the server was started again, the oldest first. */
  constructor(earlier: readonly EarlierLine[] = []) {
    this.kept = earlier.slice(-LOG_KEPT).map((line, number) => ({ ...line, number }));
    this.nextNumber = this.kept.length;
  }

  /** `at` in physical ms, `fast` in fast-clock ms. */
  add(at: number, fast: number, text: string, train: number | null): LogView {
    const line: LogView = { number: this.nextNumber++, at, fast, text, train };
    this.kept.push(line);
    if (this.kept.length > LOG_KEPT) this.kept.shift();
    this.unsent.push(line);
    if (this.unsent.length > LOG_KEPT) this.unsent.shift();
    return line;
  }

  lines(): readonly LogView[] {
    return this.kept;
  }

  takeUnsent(): readonly LogView[] {
    const lines = this.unsent;
    this.unsent = [];
    return lines;
  }
}

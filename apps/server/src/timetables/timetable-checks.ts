import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { TimetableChecker, type TimetableCheck } from '@blockbell/timetabling';

/** What timetables are checked against, and then one after another to check. */
export type ToChecker =
  | { readonly kind: 'railway'; readonly layout: LayoutFile; readonly stock: StockFile }
  | { readonly kind: 'check'; readonly id: number; readonly timetable: TimetableFile };

export interface FromChecker {
  readonly id: number;
  readonly check: TimetableCheck;
}

/** Answers the messages of a desk, wherever it runs. */
export class TimetableChecks {
  #checker: TimetableChecker | null = null;

  take(message: ToChecker): FromChecker | null {
    if (message.kind === 'railway') {
      this.#checker = new TimetableChecker(message.layout, message.stock);
      return null;
    }
    if (this.#checker === null) throw new Error('nothing to check a timetable against');
    return { id: message.id, check: this.#checker.check(message.timetable) };
  }
}

import type { Lever } from '@blockbell/contract';
import { USUAL_CHOICES } from '@blockbell/planning';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { askWhatIf, type PresentSession, type WhatIf } from '@blockbell/rehearsal';

/** The railway that is asked about, and then one question after another. */
export type ToForeteller =
  | {
      readonly kind: 'railway';
      readonly layout: LayoutFile;
      readonly stock: StockFile;
      readonly timetable: TimetableFile;
      /** Whether the session follows plans. */
      readonly planning: boolean;
    }
  | {
      readonly kind: 'ask';
      readonly id: number;
      readonly command: Lever;
      /** The engine's memory, as text. */
      readonly present: string;
    };

export interface FromForeteller {
  readonly id: number;
  /** Null: the session does not run, so that nothing can be foretold. */
  readonly whatIf: WhatIf | null;
}

/** How far ahead is looked, fast ms. */
const HORIZON = 30 * 60_000;

/** Answers the messages of a desk, wherever it runs. */
export class WhatIfs {
  #railway: (ToForeteller & { kind: 'railway' }) | null = null;

  take(message: ToForeteller): FromForeteller | null {
    if (message.kind === 'railway') {
      this.#railway = message;
      return null;
    }
    if (this.#railway === null) throw new Error('no railway to foretell anything of');
    const { layout, stock, timetable, planning } = this.#railway;
    const { id, command, present } = message;
    const question = {
      layout,
      stock,
      timetable,
      command,
      horizon: HORIZON,
      ...(planning ? { planning: USUAL_CHOICES } : {}),
    };
    return { id, whatIf: askWhatIf(question, () => JSON.parse(present) as PresentSession) };
  }
}

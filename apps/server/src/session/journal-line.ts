import type { Effect, Input } from '@blockbell/railway';
import type { EntryKind } from '../storage/journal-entry.entity.js';

/** What of a step is worth reading later. */
export interface JournalLine {
  readonly kind: EntryKind;
  readonly text: string;
  readonly train: number | null;
}

/** The line an effect leaves in log and journal; null: none. */
export function journalLine(input: Input, effect: Effect): JournalLine | null {
  switch (effect.kind) {
    case 'log':
      return { kind: 'decision', text: effect.text, train: effect.train };
    case 'alarm': {
      const text = effect.raised ? `Alarm: ${effect.text}` : `Alarm over: ${effect.text}`;
      return { kind: 'alarm', text, train: null };
    }
    case 'answer': {
      if (effect.refusal === null || input.kind !== 'command') return null;
      const text = `${input.by} was refused: ${effect.refusal.text}`;
      return { kind: 'refusal', text, train: null };
    }
    case 'device':
      return null;
  }
}

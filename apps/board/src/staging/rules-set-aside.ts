import type { StagingRulesFile } from '@blockbell/railway';

/** Rules as they are worked on. */
export interface RulesAtWork {
  readonly file: StagingRulesFile;
  /** What they were before each change, the first first. */
  readonly before: readonly StagingRulesFile[];
  /** Whether they hold changes that are saved nowhere. */
  readonly unsaved: boolean;
}

/** Rules for layouts that don't run now: what was changed at this page is there again when its layout runs again. */
export class RulesSetAside {
  readonly #byLayout = new Map<string, RulesAtWork>();

  put(work: RulesAtWork): void {
    this.#byLayout.set(work.file.layout, work);
  }

  /** Those for a layout, which are not set aside any more; null: none are. */
  take(layout: string): RulesAtWork | null {
    const work = this.#byLayout.get(layout) ?? null;
    this.#byLayout.delete(layout);
    return work;
  }

  /** What to tell of those that are saved nowhere, or null. */
  get words(): string | null {
    const names = [...this.#byLayout.values()]
      .filter(({ unsaved }) => unsaved)
      .map(({ file }) => `“${file.name}” for ${file.layout}`);
    return names.length === 0
      ? null
      : `Not saved yet: ${names.join(', ')}. They come back when a session runs on their layout; closing this page loses them.`;
  }
}

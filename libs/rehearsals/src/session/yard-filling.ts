import { fastNow, type EngineState, type Layout, type World } from '@blockbell/railway';
import { SAMPLE_EVERY } from './session-result.js';

/** The staging yards of a layout. */
export const stagingYards = ({ stations }: Layout): Layout['stations'] =>
  stations.filter(({ file }) => file.kind === 'staging-yard');

/** Counts how many trains stand in each staging yard, at even moments of the fast clock. */
export class YardFilling {
  /** By yard and sample. */
  readonly samples: number[][];
  /** By element: the yard it belongs to. */
  readonly #yardOf = new Map<number, number>();
  readonly #start: number;

  constructor({ layout, timetable }: World) {
    const yards = stagingYards(layout);
    yards.forEach(({ tracks }, yard) => {
      for (const { blocks } of tracks) for (const block of blocks) this.#yardOf.set(block, yard);
    });
    this.samples = yards.map(() => []);
    this.#start = timetable.start;
  }

  /** Looks whether a sample is due, and takes it. */
  look(state: EngineState, now: number): void {
    if (!state.session.begun || this.samples.length === 0) return;
    const fast = fastNow(state.session.clock, now);
    if (fast < this.#start + this.samples[0]!.length * SAMPLE_EVERY) return;
    const counts = this.samples.map(() => 0);
    for (const { path, activity } of state.trains) {
      if (activity.kind === 'absent') continue;
      const block = path.findLast(({ heading }) => heading >= 0)?.element;
      const yard = block === undefined ? undefined : this.#yardOf.get(block);
      if (yard !== undefined && activity.kind === 'standing') counts[yard]!++;
    }
    counts.forEach((count, yard) => this.samples[yard]!.push(count));
  }
}

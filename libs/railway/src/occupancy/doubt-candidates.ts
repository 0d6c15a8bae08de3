import { blockOf } from '../layout/layout.js';
import type { EngineState } from '../session/state.js';

/** Trains that may stand in a block after all, fewest misreadings first; they rank for a person and never decide. */
export function candidatesIn(state: EngineState, block: number): number[] {
  const found = new Map<number, number>();
  for (const doubt of state.doubts) {
    for (const { places, faults } of doubt.assignments) {
      const at = places.findIndex((place) => blockOf(doubt.places[place]!) === block);
      if (at < 0) continue;
      const train = doubt.trains[at]!;
      found.set(train, Math.min(found.get(train) ?? faults, faults));
    }
  }
  return [...found].sort((a, b) => a[1] - b[1] || a[0] - b[0]).map(([train]) => train);
}

import type { EngineState } from '../session/state.js';
import type { Writer } from '../session/writer.js';

/** Whether an element is closed and no train holds it or relies on it: work may be done there. */
export function isForWork({ elements }: EngineState, index: number): boolean {
  const { possession, holder, flankFor, overlapFor } = elements[index]!;
  return possession !== null && holder < 0 && overlapFor < 0 && flankFor.length === 0;
}

/** The last train has let go of an element: if it is closed, work may begin. */
export function noteClosed(w: Writer, index: number): void {
  if (!isForWork(w.state, index)) return;
  const { id } = w.world.layout.elements[index]!;
  w.log(`${id} is closed now: ${w.state.elements[index]!.possession}. Work may begin.`);
}

import { hasDeadline } from '../session/deadlines.js';
import type { EngineState } from '../session/state.js';

/** Whether what lies beyond a train's authority is locked only because it was given back under its approach. */
export const isApproachLocked = (state: EngineState, index: number): boolean =>
  hasDeadline(state, 'approach', index);

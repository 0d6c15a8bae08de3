import {
  createSession,
  step,
  type EngineState,
  type Input,
  type SessionCounts,
  type StepResult,
  type World,
} from '@blockbell/railway';

export interface TimedStep {
  readonly input: Input;
  readonly result: StepResult;
  /** After the step. */
  readonly state: EngineState;
  /** Grants decided in it. */
  readonly grants: number;
  /** Wall-clock ms. */
  readonly elapsed: number;
}

/**
 * Feeds recorded inputs to a fresh engine, which decides as the recorded one did, and times every step. Returns what it counted.
 */
export function replayTimed(
  world: World,
  inputs: readonly Input[],
  see: (step: TimedStep) => void,
): SessionCounts {
  const state = createSession(world);
  for (const input of inputs) {
    const granted = state.counts.grants;
    const began = performance.now();
    const result = step(world, state, input);
    const elapsed = performance.now() - began;
    see({ input, result, state, grants: state.counts.grants - granted, elapsed });
  }
  return state.counts;
}

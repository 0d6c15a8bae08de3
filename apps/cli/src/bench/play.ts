import type { Input, World } from '@blockbell/railway';
import { isWorkDone, passSeconds, Rehearsal, type RehearsalSetup } from '@blockbell/rehearsal';

/** Runs a session until all work is done, or for so many physical ms; `each` is called every second of them. */
export function play(rehearsal: Rehearsal, until: number, each?: () => void): void {
  for (const _ of passSeconds(rehearsal, until)) {
    each?.();
    if (isWorkDone(rehearsal.state)) return;
  }
}

/** A session as its engine heard it. */
export interface Recording {
  /** Its ways have been looked up as far as the session needed them. */
  readonly world: World;
  readonly inputs: readonly Input[];
  /** Trains that move at a time, on average while the session runs. */
  readonly moving: number;
}

export function recordSession(setup: RehearsalSetup, until: number): Recording {
  const rehearsal = new Rehearsal(setup);
  const inputs: Input[] = [];
  rehearsal.observe((_, input) => inputs.push(input));
  let moving = 0;
  let looks = 0;
  play(rehearsal, until, () => {
    if (rehearsal.state.session.phase.kind !== 'running') return;
    looks++;
    for (const { activity } of rehearsal.state.trains) if (activity.kind === 'moving') moving++;
  });
  return { world: rehearsal.world, inputs, moving: looks === 0 ? 0 : moving / looks };
}

import type { EngineState } from './state.js';

/** Whether the session lets trains run at all. */
export function mayRun({ session }: EngineState): boolean {
  const { kind } = session.phase;
  return kind === 'running' || kind === 'paused' || kind === 'ending';
}

/** Whether beliefs about trains follow detection now, or are only gathered for the line-up. */
export function isWatching({ session }: EngineState): boolean {
  const { kind } = session.phase;
  return kind !== 'set-up' && kind !== 'line-up' && kind !== 'powerless';
}

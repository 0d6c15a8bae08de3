import type { SessionView } from '@blockbell/contract/messages';
import type { Command } from '../shared/board.svelte.js';

/** A control of the session as a whole. */
export interface PhaseAction {
  readonly label: string;
  readonly command: Command;
  readonly tone: 'plain' | 'primary' | 'strong';
  /** Why it can't be given yet, or null. */
  readonly barred: string | null;
}

export const PHASE_WORDS: Readonly<Record<SessionView['phase'], string>> = {
  'set-up': 'set up',
  'line-up': 'line-up',
  running: 'running',
  paused: 'paused',
  stopped: 'all stopped',
  powerless: 'power cut',
  ending: 'ending',
  ended: 'ended',
};

const action = (
  label: string,
  command: Command,
  tone: PhaseAction['tone'] = 'plain',
  barred: string | null = null,
): PhaseAction => ({ label, command, tone, barred });

const POWER_UP = action('Power up', { kind: 'power-up' }, 'primary');
const STOP_ALL = action('Stop all now', { kind: 'stop-all' }, 'strong');

/** The session's controls in its present phase, the likeliest first. Cutting power stands apart, always. */
export function phaseActions(session: SessionView): readonly PhaseAction[] {
  const hold = session.departuresHeld
    ? action('Let departures go', { kind: 'hold-departures', hold: false })
    : action('Hold departures', { kind: 'hold-departures', hold: true });
  const dead = session.districts.some((power) => power !== 'on');
  switch (session.phase) {
    case 'set-up':
    case 'powerless':
      return [POWER_UP];
    case 'line-up':
      return dead
        ? [POWER_UP]
        : [action('Start', { kind: 'start' }, 'primary', openReason(session))];
    case 'running':
      return [action('Pause', { kind: 'pause' }), hold, STOP_ALL];
    case 'paused':
      return [action('Resume', { kind: 'resume' }, 'primary'), hold, STOP_ALL];
    case 'stopped':
      return [
        dead ? POWER_UP : action('Resume', { kind: 'resume' }, 'primary', openReason(session)),
        hold,
      ];
    case 'ending':
      return [STOP_ALL];
    case 'ended':
      return [];
  }
}

/** What everybody should know of the present phase, or null. */
export function phaseNote({ phase, why, openQuestions }: SessionView): string | null {
  const because = why ? `: ${why}` : '';
  if (phase === 'stopped') {
    const first =
      openQuestions > 0 ? 'answer the open questions, then resume' : 'resume when it is safe';
    return `All trains were told to stop${because}. Power is on and detection live; ${first}.`;
  }
  if (phase === 'powerless')
    return `Track power is off${because}. Nothing was released; power up again when the cause is mended.`;
  if (phase === 'ending')
    return 'The session is ending: trains finish what they run, no new workings begin.';
  if (phase === 'ended')
    return 'The session has ended. Where trains stand is kept for the next line-up.';
  return null;
}

/** Why the session can't go on yet, in words. */
export function openReason({ openQuestions, why, phase }: SessionView): string | null {
  if (openQuestions > 0)
    return openQuestions === 1
      ? 'One question is still open in the line-up.'
      : `${openQuestions} questions are still open in the line-up.`;
  return phase === 'line-up' ? why : null;
}

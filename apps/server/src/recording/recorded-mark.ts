import type { RecordedMark } from '@blockbell/contract';
import type { Effect, Input, World } from '@blockbell/railway';
import { deedWords } from '../session/deed-words.js';

/** What an effect leaves to be gone to when the session is looked at again; null: nothing. */
export function recordedMark(
  world: World,
  input: Input,
  effect: Effect,
): Pick<RecordedMark, 'kind' | 'text' | 'train'> | null {
  if (effect.kind === 'alarm')
    return effect.raised ? { kind: 'alarm', text: effect.text, train: null } : null;
  if (effect.kind !== 'answer' || effect.refusal !== null || input.kind !== 'command') return null;
  const { by, command } = input;
  if (command.kind !== 'give-back-route' && !(command.kind === 'take-in-hand' && command.take))
    return null;
  const kind = command.kind === 'take-in-hand' ? 'in-hand' : 'given-back';
  return { kind, text: `${by} ${deedWords(world, command)}.`, train: command.train };
}

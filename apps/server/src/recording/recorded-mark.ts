import type { RecordedMark } from '@blockbell/contract';
import type { Command, Effect, Input, World } from '@blockbell/railway';
import { deedWords } from '../session/deed-words.js';

/** Given all the time, or changing nothing on the railway: nobody looks for the moment of one. */
const PASSING: ReadonlySet<Command['kind']> = new Set(['acknowledge-alarm', 'drive']);

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
  if (PASSING.has(command.kind)) return null;
  const train = 'train' in command ? command.train : null;
  return { kind: kindOf(command), text: `${by} ${deedWords(world, command)}.`, train };
}

function kindOf(command: Command): RecordedMark['kind'] {
  if (command.kind === 'give-back-route') return 'given-back';
  return command.kind === 'take-in-hand' && command.take ? 'in-hand' : 'decision';
}

import type { RecordedMark } from '@blockbell/contract';
import type { Effect, Input, World } from '@blockbell/railway';

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
  if (command.kind === 'take-in-hand' && command.take) {
    const { train } = command;
    return { kind: 'in-hand', text: `${by} took ${label(world, train)} in hand.`, train };
  }
  if (command.kind === 'give-back-route') {
    const { train } = command;
    return {
      kind: 'given-back',
      text: `${by} gave the way of ${label(world, train)} back.`,
      train,
    };
  }
  return null;
}

const label = (world: World, train: number): string =>
  world.stock.trains[train]?.file.label ?? `#${train}`;

import type { ReturnView } from '@blockbell/contract/messages';
import { spanText } from '../shared/span-text.js';

type Plan = NonNullable<ReturnView['plan']>;

/** How far a move has come, in a word. */
export const STAGE_WORDS: Readonly<Record<Plan['moves'][number]['stage'], string>> = {
  'to-come': 'to come',
  'under-way': 'under way',
  made: 'made',
  failed: 'failed',
  'given-up': 'given up',
};

/** A plan in one sentence, as it stands. */
export function planText({ state, moves, left, time, isBest }: Plan): string {
  const made = moves.filter(({ stage }) => stage === 'made').length;
  const people = left.length === 0 ? '' : ` ${trains(left.length)} left to a person.`;
  switch (state) {
    case 'planned': {
      if (moves.length === 0)
        return left.length === 0
          ? 'Every train stands where the session began.'
          : `No train can be brought back by itself.${people}`;
      const fewest = isBest ? '' : ' Fewer moves may do: the search was not finished.';
      return `${count(moves.length)}, about ${spanText(time)} in all.${people}${fewest}`;
    }
    case 'running':
      return `${made} of ${count(moves.length)} made.${people}`;
    case 'stopped':
      return `Stopped: ${made} of ${count(moves.length)} made. Plan again to go on.`;
    case 'ended':
      return made === moves.length
        ? `All done: ${count(made)} made.${people}`
        : `Over: ${made} of ${count(moves.length)} made. See to what failed, then plan again.`;
  }
}

const count = (moves: number): string => (moves === 1 ? '1 move' : `${moves} moves`);
const trains = (left: number): string => (left === 1 ? '1 train is' : `${left} trains are`);

import { chainSentence, waitChain, type EngineState, type World } from '@blockbell/railway';

interface Seen {
  readonly world: World;
  readonly state: EngineState;
}

export interface StandingTrain {
  readonly train: number;
  /** The chain of causes in one sentence. */
  readonly why: string;
  /** Whether it stands there for a like reason without the command, too. */
  readonly anyway: boolean;
}

/** Trains that wait at the end of a course for something else than time, each with why. */
export function trainsThatStand(before: Seen, after: Seen): StandingTrain[] {
  return after.state.trains.flatMap((_, train): StandingTrain[] => {
    const why = whyStands(after, train);
    return why === null ? [] : [{ train, why, anyway: whyStands(before, train) !== null }];
  });
}

function whyStands({ world, state }: Seen, train: number): string | null {
  const { activity, wait } = state.trains[train]!;
  const chain = waitChain(world, state, train);
  if (chain === null || activity.kind === 'moving' || activity.kind === 'absent') return null;
  if (wait?.kind === 'finished' || chain.root.kind === 'timetable') return null;
  return chainSentence(world, chain);
}

import type { EngineState, TrainState, World } from '@blockbell/railway';
import type { LeftTrain } from './return-plan.js';
import { standsAtHome, homeOf } from './way-home.js';

type Reason = Pick<LeftTrain, 'why' | 'mend'>;

/** Why a train can't be moved by the program as it stands, and what mends it; null: it can. Only what is certain is moved. */
export function unfitToMove(world: World, state: EngineState, train: number): Reason | null {
  const { label } = world.stock.trains[train]!.file;
  const { activity, confirmed, identity, held, handSpeed } = state.trains[train]!;
  if (activity.kind === 'absent') {
    const place = placeText(world, train);
    return {
      why: `${label} is not on the layout.`,
      mend: `Put it ${place} by hand.`,
    };
  }
  if (activity.kind === 'halted')
    return {
      why: `${label} was stopped: ${activity.why}.`,
      mend: 'See to it, let it go on, and ask for the return again.',
    };
  if (!confirmed || identity.certainty === 'ambiguous')
    return {
      why: `It is not certain where ${label} stands.`,
      mend: 'Say where it stands, and ask for the return again.',
    };
  if (handSpeed !== null)
    return {
      why: `${label} is in hand.`,
      mend: `Drive it ${placeText(world, train)}, or give it back and ask for the return again.`,
    };
  if (held)
    return {
      why: `${label} is held by a person.`,
      mend: 'Let it go on, and ask for the return again.',
    };
  return null;
}

/** Where a train stood when the session began, in words that follow “put it”. */
export function placeText({ layout, timetable }: World, train: number): string {
  const start = timetable.storedPlaces[train] ?? null;
  if (start === null) return 'away';
  const { block, towards } = homeOf(start);
  return `on ${layout.elements[block]!.id}, its front towards end ${towards}`;
}

/** Whether a train stands in the block where the session's files have it at the beginning, its front the same way. */
export function isThere(
  { timetable }: World,
  { activity, path, frontLeads }: TrainState,
  train: number,
): boolean {
  const start = timetable.storedPlaces[train] ?? null;
  const heading = path.at(-1)?.heading ?? -1;
  if (start === null) return activity.kind === 'absent';
  return (
    activity.kind !== 'absent' && heading >= 0 && standsAtHome(homeOf(start), heading, frontLeads)
  );
}

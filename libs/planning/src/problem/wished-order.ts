import type { Situation } from '../situation/situation.js';
import type { Draft, TrainPlan } from './train-plan.js';

/**
 * Who a dispatcher wants to go first holds something that the other needs for its ways over the track in question: until it
 * has all routes of the leg on which it comes there behind it. `unused`: a number below those of all other resources.
 */
export function withWishedOrder(
  { firsts }: Situation,
  plans: readonly TrainPlan[],
  unused: number,
): readonly TrainPlan[] {
  return firsts.reduce<readonly TrainPlan[]>((changed, { first, second, leg, elements }, wish) => {
    const resource = unused - wish;
    const isBefore = ({ meaning }: Draft): boolean =>
      meaning.kind === 'begin' || (meaning.kind !== 'end' && meaning.leg <= leg);
    const isOver = ({ meaning, holds }: Draft): boolean =>
      meaning.kind === 'route' && elements.some((element) => holds.includes(element));
    return changed.map((plan) => {
      if (plan.train === first) return holding(plan, resource, isBefore);
      return plan.train === second ? holding(plan, resource, isOver) : plan;
    });
  }, plans);
}

const holding = (
  plan: TrainPlan,
  resource: number,
  holds: (draft: Draft) => boolean,
): TrainPlan => ({
  ...plan,
  drafts: plan.drafts.map((draft) =>
    holds(draft) ? { ...draft, holds: [...draft.holds, resource] } : draft,
  ),
});

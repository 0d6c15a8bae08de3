import { holdsOfTrack, holdsOfTrain } from './conditions.js';
import type { StationId } from '../ids.js';
import type { Berth } from './berths.js';
import { trackKey } from './order-keys.js';
import type { TrackCondition, TrackOrder, YardRulesFile } from './staging-rules-file.js';
import { freeFrom, type ComingTrain, type YardScene } from './yard-scene.js';

/** Which rule it was, by its place in its list. */
export interface RuleRef {
  readonly list: 'arrivals' | 'nothingFits';
  readonly place: number;
}

/** The rules that say where a train that comes goes. */
export type ArrivalsOfYard = Pick<YardRulesFile, 'arrivals' | 'nothingFits'>;

/** Places that one rule allows, the best first. */
export interface Offer {
  readonly rule: RuleRef;
  readonly berths: readonly Berth[];
}

export type TrackDecision =
  /** What the rules offer, the first that is possible to be taken. */
  | { readonly kind: 'take'; readonly offers: readonly Offer[] }
  /** It waits outside, for so many minutes of the fast clock at most since it first found nothing. */
  | { readonly kind: 'hold'; readonly minutes: number; readonly rule: RuleRef }
  /** It goes to another yard. */
  | { readonly kind: 'overflow'; readonly to: StationId; readonly rule: RuleRef }
  /** A person is to say which track. `rule` null: the rules have come to their end. */
  | { readonly kind: 'ask'; readonly rule: RuleRef | null };

const MINUTE = 60_000;

/**
 * Which track a train takes by the rules of a yard. `waited`: fast-clock ms since it first found nothing; null: it has not been
 * asked before. Only places with room come into question, and only such as `train.berths` names. Deterministic.
 * @param closed places among what is done when nothing fits that were tried and can't be had
 */
export function decideTrack(
  rules: ArrivalsOfYard,
  scene: YardScene,
  train: ComingTrain,
  waited: number | null,
  closed: readonly number[] = [],
): TrackDecision {
  const roomy = train.berths.filter(
    ({ track, in: end, needs }) => freeFrom(scene.tracks[track]!, end) >= needs,
  );
  const pick = (only: TrackCondition | undefined, order: readonly TrackOrder[]): Berth[] =>
    sorted(
      roomy.filter((berth) => only === undefined || holdsOfTrack(only, scene, train, berth)),
      order,
      scene,
      train,
    );
  const offers = rules.arrivals.flatMap((rule, place): Offer[] => {
    if (rule.when !== undefined && !holdsOfTrain(rule.when, train, scene.fast)) return [];
    const berths = pick(rule.only, rule.order);
    return berths.length === 0 ? [] : [{ rule: { list: 'arrivals', place }, berths }];
  });
  if (offers.length > 0) return { kind: 'take', offers };
  let holdUntil = 0;
  for (const [place, fallback] of rules.nothingFits.entries()) {
    const rule: RuleRef = { list: 'nothingFits', place };
    if (fallback.do === 'ask') return { kind: 'ask', rule };
    if (fallback.do === 'overflow') {
      if (!closed.includes(place)) return { kind: 'overflow', to: fallback.to, rule };
      continue;
    }
    if (fallback.do === 'hold') {
      holdUntil += fallback.minutes * MINUTE;
      if ((waited ?? 0) < holdUntil) return { kind: 'hold', minutes: holdUntil / MINUTE, rule };
      continue;
    }
    const berths = pick(fallback.only, fallback.order);
    if (berths.length > 0) return { kind: 'take', offers: [{ rule, berths }] };
  }
  return { kind: 'ask', rule: null };
}

function sorted(
  berths: readonly Berth[],
  orders: readonly TrackOrder[],
  scene: YardScene,
  train: ComingTrain,
): Berth[] {
  return [...berths].sort((a, b) => {
    for (const order of orders) {
      const [one, other] = [trackKey(order, scene, train, a), trackKey(order, scene, train, b)];
      if (one !== other) return one - other;
    }
    return a.track - b.track || rank(a) - rank(b);
  });
}

/** Two berths of one track differ by an end. */
const rank = ({ in: entry, out }: Berth): number => (entry === 'a' ? 0 : 2) + (out === 'a' ? 0 : 1);

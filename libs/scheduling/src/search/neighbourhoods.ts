import type { Model, OrderChoice, PieceNodes, RouteChoice } from '../model/model.js';
import type { Chance } from './chance.js';
import type { LastPlan } from './last-plan.js';

/** What of a plan is open to change, all else being kept: some trains, trains that come close, or a stretch of time. */
export type Neighbourhood = 'trains' | 'near' | 'window';

export const NEIGHBOURHOODS: readonly Neighbourhood[] = ['trains', 'near', 'window'];

/**
 * Literals that keep a plan except within a neighbourhood.
 *
 * @param share how much of the plan is open, from 0 to 1
 */
export function keptLiterals(
  model: Model,
  plan: LastPlan,
  kind: Neighbourhood,
  share: number,
  chance: Chance,
): number[] {
  const { orders, routes } = model;
  const [isOrderOpen, isRouteOpen] =
    kind === 'window'
      ? openWindow(plan, share, chance)
      : openTrains(model, plan, kind, share, chance);
  const kept: number[] = [];
  for (const route of routes) {
    const way = plan.wayFrom(route.node, route.targets);
    if (way >= 0 && !isRouteOpen(route)) kept.push(route.ways[way]!);
  }
  for (const order of orders) {
    const literal = plan.orderOf(order);
    if (literal !== null && !isOrderOpen(order)) kept.push(literal);
  }
  return kept;
}

type Openness = [(order: OrderChoice) => boolean, (route: RouteChoice) => boolean];

function openWindow({ starts }: LastPlan, share: number, chance: Chance): Openness {
  const times = starts.filter((time) => time >= 0).sort();
  const width = Math.max(1, Math.floor(times.length * share));
  const at = chance.below(Math.max(1, times.length - width));
  const from = times[at]!;
  const to = times[Math.min(times.length - 1, at + width)]!;
  const isIn = (node: number): boolean => starts[node]! >= from && starts[node]! <= to;
  const overlaps = ({ first, last }: PieceNodes): boolean => isIn(first) || isIn(last);
  return [
    ({ meetings }) => meetings.some(([a, b]) => a.some(overlaps) || b.some(overlaps)),
    ({ node }) => isIn(node),
  ];
}

function openTrains(
  model: Model,
  plan: LastPlan,
  kind: Neighbourhood,
  share: number,
  chance: Chance,
): Openness {
  const trains = model.firstNode.length;
  const count = Math.min(trains, Math.max(2, Math.round(share * trains)));
  const open = new Set<number>();
  if (kind === 'near') {
    const seed = chance.below(trains);
    open.add(seed);
    for (const train of byCloseness(model, plan, seed)) {
      // Not always the same ones.
      if (open.size < count && chance.below(4) > 0) open.add(train);
    }
  }
  while (open.size < count) open.add(chance.below(trains));
  // Their order among themselves, or also with the others.
  const bothOpen = chance.below(2) === 0;
  return [
    ({ trains: [a, b] }) => (bothOpen ? open.has(a) && open.has(b) : open.has(a) || open.has(b)),
    ({ train }) => open.has(train),
  ];
}

/** The trains that meet one, those first that come closest to it in time. */
function byCloseness({ orders }: Model, plan: LastPlan, train: number): number[] {
  const gaps = new Map<number, number>();
  for (const { trains, meetings } of orders) {
    const other = trains[0] === train ? trains[1] : trains[0];
    if (other === train || !trains.includes(train)) continue;
    for (const [piecesA, piecesB] of meetings) {
      const a = piecesA.find(({ first }) => plan.isPassed(first));
      const b = piecesB.find(({ first }) => plan.isPassed(first));
      if (a === undefined || b === undefined) continue;
      const gap = Math.abs(plan.starts[a.first]! - plan.starts[b.first]!);
      gaps.set(other, Math.min(gap, gaps.get(other) ?? Infinity));
    }
  }
  return [...gaps].sort((x, y) => x[1] - y[1] || x[0] - y[0]).map(([other]) => other);
}

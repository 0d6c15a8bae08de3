import type { RouteIndex } from '../layout/layout.js';
import { setDeadline } from '../session/deadlines.js';
import type { TrainState } from '../session/state.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { Writer } from '../session/writer.js';
import type { DispatchPlan, PlanInForce, PlanStep } from './plan.js';
import type { Move } from './safety-problem.js';
import { isToGoFirst } from './wishes/first-wish.js';

/** How long after a plan was made it is followed, physical ms; by then there should long be another. */
export const PLAN_LASTS = 90_000;
/** A step so much later than planned is not waited for any more, physical ms. */
export const STEP_LATENESS = 20_000;

/** Follows a plan from now on, as far as it still fits where the trains are; one that is out of date is left. */
export function takePlan(w: Writer, plan: DispatchPlan): void {
  const { dispatching, added } = w.state;
  if (w.now - plan.made >= PLAN_LASTS || plan.made < (dispatching.plan?.plan.made ?? 0)) return;
  if (plan.edition !== added.edition) return;
  if (!(plan.made <= w.now)) {
    return w.log('A plan was set aside, for it says that it was made later than now.');
  }
  if (!plan.steps.every((step, place) => isKnown(w, step, place))) {
    return w.log('A plan was set aside, for it names what is not of this session.');
  }
  const next = w.state.trains.map((_, train) => firstStep(w, plan, train));
  dispatching.plan = { plan, next };
  dispatching.due = true;
  w.changes.session = true;
}

/** Follows no plan until there is another. */
export function dropPlan(w: Writer): void {
  if (w.state.dispatching.plan === null) return;
  w.state.dispatching.plan = null;
  w.state.dispatching.due = true;
  w.changes.session = true;
}

/** The plan that is followed, or null where there is none or it has grown old. */
function planInForce(w: Writer): PlanInForce | null {
  const { plan } = w.state.dispatching;
  return plan === null || w.now - plan.plan.made >= PLAN_LASTS ? null : plan;
}

/** The train's next step of the plan. */
function nextStep(w: Writer, index: number): PlanStep | null {
  const force = planInForce(w);
  return force?.plan.steps[force.next[index]!] ?? null;
}

const LAST = Number.MAX_SAFE_INTEGER;

/** The place of a train in the order of the plan; behind all others when it has none. */
export function planRank(w: Writer, index: number): number {
  const force = planInForce(w);
  const next = force?.next[index] ?? LAST;
  return force?.plan.steps[next] === undefined ? LAST : next;
}

/** The move that the plan has for a train where its way ends now; null when it says nothing of it. */
export function plannedMove(w: Writer, index: number): Move | null {
  const step = nextStep(w, index);
  if (step === null) return null;
  const graph = w.world.graphs[index]!;
  const { node } = w.state.trains[index]!;
  const { leg } = graph.placeOf(node);
  const found = graph.moves(node).find(({ to }) => {
    const { route } = graph.meaningOf(node, to);
    return step.leg === leg ? route === step.route : step.leg > leg && route === null;
  });
  return found ?? null;
}

/**
 * Whether a train for which its planned move can't be had yet waits for that rather than take another: while the step is
 * not overdue, and only another train's passing is waited for. The moment to ask again is arranged.
 */
export function waitsForPlanned(w: Writer, index: number, reason: WaitReason): boolean {
  const force = planInForce(w);
  const step = nextStep(w, index);
  if (force === null || step === null || !passesByItself(w, reason)) return false;
  const until = overdueAt(force, step);
  if (w.now >= until) return false;
  setDeadline(w.state, 'plan', index, until);
  return true;
}

function passesByItself(w: Writer, reason: WaitReason): boolean {
  switch (reason.kind) {
    case 'element-held':
    case 'section-claimed':
      return canCome(w.state.trains[reason.by]!);
    case 'searching':
      return true;
    default:
      return false;
  }
}

/**
 * The train that is to go before this one by the plan, while it can still come, be it when a person lets it go: the plan has
 * reckoned with that. Every such wait has an end: the moment at which that train's step is overdue. The moment to ask again is arranged.
 */
export function planWait(w: Writer, index: number): WaitReason | null {
  const force = planInForce(w);
  const step = nextStep(w, index);
  if (force === null || step === null) return null;
  for (const place of step.after) {
    const before = force.plan.steps[place]!;
    if (force.next[before.train]! > place) continue;
    const until = overdueAt(force, before);
    const other = w.state.trains[before.train]!;
    if (w.now >= until || !(canCome(other) || isOnlyHeld(other))) continue;
    if (isToGoFirst(w, index, before.train)) continue;
    setDeadline(w.state, 'plan', index, until);
    return { kind: 'plan-order', to: before.train };
  }
  return null;
}

/** When nobody waits for a step any more, physical ms: it is overdue, or the plan is followed no longer. */
const overdueAt = ({ plan }: PlanInForce, { at }: PlanStep): number =>
  Math.min(at + STEP_LATENESS, plan.made + PLAN_LASTS);

/** Notes that a train takes a route: as planned, or otherwise; then the plan says nothing more of the train. */
export function noteRoute(w: Writer, index: number, leg: number, route: RouteIndex): void {
  const force = w.state.dispatching.plan;
  const step = nextStep(w, index);
  if (force === null || step === null) return;
  const { steps } = force.plan;
  const isPlanned = step.leg === leg && step.route === route;
  const isInOrder = step.after.every((place) => force.next[steps[place]!.train]! > place);
  if (isPlanned && isInOrder) w.state.counts.asPlanned++;
  else w.state.counts.otherThanPlanned++;
  force.next[index] = isPlanned
    ? stepAfter(force.plan, index, force.next[index]!)
    : steps.length + 1;
}

/** A train left the plan by a person's hand. */
export function leavePlan(w: Writer, index: number): void {
  const force = w.state.dispatching.plan;
  if (force !== null) force.next[index] = force.plan.steps.length + 1;
}

/** Whether a train may be expected to go on by itself: no fault and no person keeps it. */
export function canCome({ activity, confirmed, identity, held, handSpeed }: TrainState): boolean {
  return (
    activity.kind !== 'absent' &&
    activity.kind !== 'halted' &&
    confirmed &&
    identity.certainty !== 'ambiguous' &&
    !held &&
    handSpeed !== 0
  );
}

/** Whether a train would come if no person held it. */
const isOnlyHeld = (train: TrainState): boolean => train.held && canCome({ ...train, held: false });

/** The first step of the train that still lies before it: over a route from where its way ends, or on a later leg. */
function firstStep(w: Writer, { steps }: DispatchPlan, index: number): number {
  const graph = w.world.graphs[index]!;
  const { node } = w.state.trains[index]!;
  const { leg } = graph.placeOf(node);
  const ways = graph.moves(node).map(({ to }) => graph.meaningOf(node, to).route);
  const found = steps.findIndex(
    (step) =>
      step.train === index && (step.leg > leg || (step.leg === leg && ways.includes(step.route))),
  );
  return found < 0 ? steps.length : found;
}

function stepAfter({ steps }: DispatchPlan, train: number, place: number): number {
  const found = steps.findIndex((step, at) => at > place && step.train === train);
  return found < 0 ? steps.length : found;
}

/** Steps that wait for earlier ones only can't wait in a circle: the first that is left waits for nothing. */
function isKnown(w: Writer, { train, leg, route, at, after }: PlanStep, place: number): boolean {
  const graph = w.world.graphs[train];
  return (
    graph !== undefined &&
    Number.isInteger(leg) &&
    leg >= 0 &&
    leg <= graph.legCount &&
    Number.isFinite(at) &&
    w.world.layout.routes[route] !== undefined &&
    after.every((it) => Number.isInteger(it) && it >= 0 && it < place)
  );
}

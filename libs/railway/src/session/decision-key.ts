import { piecesOf } from '../interlocking/held-path.js';
import { furthestHead, furthestStop } from '../movement/train-motion.js';
import type { EngineState, TrainState } from './state.js';
import type { World } from './world.js';

/**
 * What decides what happens next, without absolute times: a reduction of the state, under which two states with the same
 * key mostly, not always, answer alike as long as deadlines come round in the same order (docs/proof.md). Left out are
 * evidence (since when, in which words) and counters; of the deadlines only their order stays, of the moments since which
 * trains wait only who waits longer, and of dead reckoning only which detected stretch of its way each train may have reached.
 * A text of some kilobytes; whoever keeps many of them hashes it.
 */
export const decisionKey = (world: World, state: EngineState): string =>
  JSON.stringify(decisive(world, state));

function decisive(world: World, state: EngineState): unknown {
  const { session, dispatching, staging, added } = state;
  const { phase } = session;
  return [
    [phase.kind, phase.kind === 'line-up' && phase.settled, session.departuresHeld, session.begun],
    [session.clock.ratio, session.clock.running],
    state.sections.map((section) => [
      section.belief,
      section.raw,
      section.claim,
      section.decoders.map(({ kind, number, facing }) => [kind, number, facing]),
      section.crowded,
      section.heard.map(({ train, near }) => [train, near]),
      section.clearByHand !== null,
      section.unidentified !== null,
    ]),
    state.elements.map((element) => [
      element.position,
      element.proof,
      element.holder,
      element.flankFor,
      element.overlapFor,
      element.tries,
      element.possession,
    ]),
    state.trains.map((train, index) => [decisiveTrain(train), reachOf(world, state, index)]),
    byWaiting(state.trains),
    state.districts.map(({ power }) => power),
    Object.values(state.buses),
    state.doubts.map(({ trains, places, assignments, reads, said }) => [
      trains,
      places,
      assignments.map(({ places: way, faults }) => [way, faults]),
      reads.map(({ train, section, times, goes }) => [train, section, times, goes]),
      said.map(({ train, block }) => [train, block]),
    ]),
    state.signals,
    state.alarms
      .filter(({ clearedAt }) => clearedAt === null)
      .map(({ key, acknowledgedBy }) => [key, acknowledgedBy !== null]),
    state.deadlines.map(({ kind, subject }) => [kind, subject]),
    dispatching.order.map(({ train, to }) => [train, to]),
    dispatching.proven,
    [dispatching.searchFor?.train, dispatching.searchFor?.to],
    [dispatching.search?.effort, dispatching.search?.outcome],
    dispatching.due,
    Object.entries(dispatching.findings).sort(([one], [other]) => (one < other ? -1 : 1)),
    dispatching.starving,
    dispatching.precedence,
    [
      staging.rules,
      staging.waits.map((wait) => wait?.closed.map(({ place }) => place) ?? null),
      tracksByUse(staging),
      staging.open.map((run) => [run.kind, run.kind === 'given' ? run.train : null]),
    ],
    staging.choices.map((choice, train) =>
      choice !== null && choice.stop > state.trains[train]!.leg
        ? [choice.stop, choice.track]
        : null,
    ),
    dispatching.plan?.next,
    dispatching.wishes,
    [added.services, added.workings, added.elsewhere],
    dispatching.plan?.plan.steps.map(({ train, leg, route, after }) => [train, leg, route, after]),
  ];
}

/** The tracks of yards that got a train by rules, the one that has got none for the longest time first. */
const tracksByUse = ({ lastUsed }: EngineState['staging']): string[] =>
  Object.keys(lastUsed).sort((one, other) => lastUsed[one]! - lastUsed[other]!);

/** Numbers of the detected stretches of its way in which a train's head, and its tail, may be by now, and to which it can stop. */
function reachOf(world: World, state: EngineState, index: number): number[] {
  const train = state.trains[index]!;
  const model = world.models[index]!;
  const head = furthestHead(model, train, state.now);
  const tail = head - world.stock.trains[index]!.length;
  const pieces = piecesOf(world.layout, train.path);
  return [head, tail, furthestStop(model, train, state.now)].map((place) =>
    pieces.findIndex(({ end }) => place <= end),
  );
}

/** Trains by how long they have waited, the longest first; such as began together stand together. */
function byWaiting(trains: readonly TrainState[]): number[][] {
  const moments = [...new Set(trains.map(({ waitingSince }) => waitingSince))];
  return moments
    .sort((a, b) => a - b)
    .map((since) =>
      trains.flatMap((train, index) => (train.waitingSince === since ? [index] : [])),
    );
}

function decisiveTrain(train: TrainState): unknown[] {
  const { identity, reckoning } = train;
  return [
    train.activity.kind,
    [identity.certainty, identity.misreads],
    train.path.map(({ element, route, step, heading, start, calledOn }) => [
      element,
      route,
      step,
      heading,
      start,
      ...(calledOn === true ? ['called on'] : []),
    ]),
    [train.mark, train.limit, train.authorised, train.edge, train.tail],
    train.overlap,
    train.blind,
    train.proving,
    reckoning.nominal.target,
    train.frontLeads,
    [train.leg, train.node, train.nodes],
    train.arrivedAt !== null,
    [train.held, train.handSpeed, train.confirmed, train.adrift, train.mustSee],
    train.wait?.kind,
    train.calls.map(({ service, call, arrived, departed }) => [
      service,
      call,
      arrived !== null,
      departed !== null,
    ]),
  ];
}

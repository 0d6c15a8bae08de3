import { contentHash } from '../layout/hash.js';
import type { EngineState, TrainState } from './state.js';

/**
 * Everything in the state that decides what happens next, without absolute times: two states with the same key
 * answer the same inputs with the same effects, as long as deadlines come round in the same order. Left out are
 * evidence (since when, in which words, dead reckoning in numbers) and counters; of the deadlines only their order stays.
 */
export function decisionKey(state: EngineState): string {
  return contentHash(decisive(state));
}

function decisive(state: EngineState): unknown {
  const { session, dispatching } = state;
  return {
    phase: session.phase.kind,
    departuresHeld: session.departuresHeld,
    begun: session.begun,
    clock: { ratio: session.clock.ratio, running: session.clock.running },
    sections: state.sections.map((section) => [
      section.belief,
      section.raw,
      section.claim,
      section.decoders,
      section.crowded,
      section.heard,
      section.clearByHand !== null,
      section.unidentified !== null,
    ]),
    elements: state.elements,
    trains: state.trains.map(decisiveTrain),
    districts: state.districts,
    buses: state.buses,
    doubts: state.doubts.map(({ trains, places, assignments, reads, said }) => [
      trains,
      places,
      assignments,
      reads,
      said.map(({ train, block }) => [train, block]),
    ]),
    signals: state.signals,
    alarms: state.alarms
      .filter(({ clearedAt }) => clearedAt === null)
      .map(({ key, acknowledgedBy }) => [key, acknowledgedBy !== null]),
    deadlines: state.deadlines.map(({ kind, subject }) => [kind, subject]),
    order: dispatching.order,
    proven: dispatching.proven,
    search: dispatching.searchFor,
    findings: dispatching.findings,
    starving: dispatching.starving,
  };
}

function decisiveTrain(train: TrainState): unknown {
  const { identity, reckoning } = train;
  return {
    activity: train.activity.kind,
    certainty: identity.certainty,
    misreads: identity.misreads,
    path: train.path,
    mark: train.mark,
    limit: train.limit,
    authorised: train.authorised,
    overlap: train.overlap,
    edge: train.edge,
    tail: train.tail,
    blind: train.blind,
    proving: train.proving,
    told: reckoning.nominal.target,
    frontLeads: train.frontLeads,
    leg: train.leg,
    node: train.node,
    nodes: train.nodes,
    atCall: train.arrivedAt !== null,
    held: train.held,
    handSpeed: train.handSpeed,
    wait: train.wait?.kind ?? null,
    confirmed: train.confirmed,
    adrift: train.adrift,
    calls: train.calls.map(({ service, call, arrived, departed }) => [
      service,
      call,
      arrived !== null,
      departed !== null,
    ]),
  };
}

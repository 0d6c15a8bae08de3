import type { Route, Step } from '../layout/layout.js';
import { sharedTrackInTheWay } from './call-on.js';
import { overlapInTheWay } from './overlap.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { World } from '../session/world.js';
import type { EngineState } from '../session/state.js';

/**
 * Whether a route can be reserved for a train now: all or nothing. Returns the first thing in the way, or null.
 * Every element of the way must be held by nobody and seen clear, every drive must be in position or free to
 * move, every reversing section must fit or be free to change, and the overlap beyond must be free where one is asked for.
 */
export function obstacleOn(
  world: World,
  state: EngineState,
  train: number,
  route: Route,
): WaitReason | null {
  for (const step of route.steps) {
    const reason = elementInTheWay(state, train, step) ?? trackInTheWay(world, state, train, step);
    if (reason !== null) return reason;
    for (const gap of step.gaps) {
      const reason = gapInTheWay(state, train, gap);
      if (reason !== null) return reason;
    }
  }
  return (
    sharedTrackInTheWay(world.layout, state, train, route.to) ??
    overlapInTheWay(world, state, train, route.to)
  );
}

function elementInTheWay(state: EngineState, train: number, step: Step): WaitReason | null {
  const element = state.elements[step.element]!;
  if (element.holder === train) return { kind: 'own-tail', element: step.element };
  if (element.holder >= 0) {
    return { kind: 'element-held', element: step.element, by: element.holder };
  }
  if (element.overlapFor >= 0 && element.overlapFor !== train) {
    return { kind: 'element-held', element: step.element, by: element.overlapFor };
  }
  if (element.possession !== null) {
    return { kind: 'possession', element: step.element, name: element.possession };
  }
  return element.proof === 'failed' ? { kind: 'turnout-failed', element: step.element } : null;
}

function trackInTheWay(
  world: World,
  state: EngineState,
  train: number,
  step: Step,
): WaitReason | null {
  for (const index of world.layout.elements[step.element]!.sections) {
    const { belief, claim } = state.sections[index]!;
    if (claim >= 0 && claim !== train)
      return { kind: 'section-claimed', section: index, by: claim };
    if (belief !== 'clear') return { kind: 'section-occupied', section: index, belief };
    if (!state.buses[world.layout.sections[index]!.bus.id]) {
      return { kind: 'section-occupied', section: index, belief: 'unknown' };
    }
  }
  return null;
}

function gapInTheWay(
  state: EngineState,
  train: number,
  gap: Step['gaps'][number],
): WaitReason | null {
  const zone = state.elements[gap.element]!;
  if (zone.holder >= 0 && zone.holder !== train) {
    return { kind: 'element-held', element: gap.element, by: zone.holder };
  }
  if (zone.overlapFor >= 0 && zone.overlapFor !== train) {
    return { kind: 'element-held', element: gap.element, by: zone.overlapFor };
  }
  if (zone.holder === train && zone.position !== gap.polarity) {
    return { kind: 'own-tail', element: gap.element };
  }
  return zone.proof === 'failed' ? { kind: 'turnout-failed', element: gap.element } : null;
}

import { dispatch } from '../dispatching/dispatch.js';
import { takePlan } from '../dispatching/follow-plan.js';
import { releaseApproach } from '../interlocking/approach-locking.js';
import { driveMessage, driveOverdue, retryDrive } from '../interlocking/turnout-proof.js';
import { leftBehind } from '../interlocking/release.js';
import { controlTrain } from '../movement/control.js';
import { edgeOverdue } from '../movement/overdue.js';
import { drawUp, provenStanding } from '../movement/standing.js';
import { sectionFree, sectionMessage } from '../occupancy/detection.js';
import { reportMessage } from '../occupancy/reports.js';
import { obey } from './commands.js';
import { setDeadline, takeDue } from './deadlines.js';
import type { DeviceEvent } from './device.js';
import type { Effect } from './effect.js';
import { endIfAtRest } from './ending.js';
import { carryOutFollowUps } from './carry-out.js';
import type { Input } from './input.js';
import { isKnown } from './known-device.js';
import { settleLineUp, takeLineUp } from './settle-line-up.js';
import { busMessage, powerMessage } from './power.js';
import { startAgain } from './start-again.js';
import type { Deadline, EngineState } from './state.js';
import { useWork, type World } from './world.js';
import { Writer, type Changes } from './writer.js';

/** Node expansions of search in one step; longer searches go on between inputs. */
export const SEARCH_SLICE = 100;

export interface StepResult {
  readonly effects: readonly Effect[];
  readonly changes: Changes;
  /** Node expansions of search it took: {@link SEARCH_SLICE} and the last one's excess at most. */
  readonly expansions: number;
}

/**
 * One step of a session: takes one input, changes the state in place and says what is to be done. Deterministic:
 * time comes with the input, there is no chance. Deadlines that fell due before the input are handled first.
 */
export function step(world: World, state: EngineState, input: Input): StepResult {
  useWork(world, state.added);
  const now = Math.max(state.now, input.at);
  const w = new Writer(world, state, now, SEARCH_SLICE);
  state.now = now;
  state.revision++;
  // Before anything that fell due: whatever the state says may no longer be so.
  if (input.kind === 'started-again') startAgain(w, input.tailLost ?? false);
  for (let due = takeDue(state, now); due !== null; due = takeDue(state, now)) {
    onDeadline(w, due);
    carryOutFollowUps(w);
  }
  if (input.kind === 'device') onDevice(w, input.event);
  else if (input.kind === 'plan') takePlan(w, input.plan);
  else if (input.kind === 'command') {
    const refusal = obey(w, input.by, input.command);
    w.effects.push({ kind: 'answer', refusal });
  }
  if (w.changes.lineUp) takeLineUp(w);
  carryOutFollowUps(w);
  if (state.dispatching.due) {
    // A layout's next message may stop a train, so it never waits for dispatching: that takes a step of its own.
    if (input.kind === 'device') setDeadline(state, 'dispatch', -1, now);
    else dispatch(w);
  }
  carryOutFollowUps(w);
  endIfAtRest(w);
  return { effects: w.effects, changes: w.changes, expansions: w.expansions };
}

function onDevice(w: Writer, event: DeviceEvent): void {
  if (!isKnown(w.world, event)) {
    return w.log(
      `A message was set aside, for this layout has no such place: ${JSON.stringify(event)}.`,
    );
  }
  switch (event.kind) {
    case 'section':
      return sectionMessage(w, event.section, event.occupied);
    case 'report':
      return reportMessage(w, event.section, event.decoders, event.crowded ?? false);
    case 'drive':
      return driveMessage(w, event.element, event.position);
    case 'power':
      return powerMessage(w, event.district, event.state);
    case 'bus':
      return busMessage(w, event.bus, event.alive);
  }
}

function onDeadline(w: Writer, { kind, subject }: Deadline): void {
  switch (kind) {
    case 'hold-off':
      return sectionFree(w, subject);
    case 'left-behind':
      return leftBehind(w, subject);
    case 'drive':
      return driveOverdue(w, subject);
    case 'retry':
      return retryDrive(w, subject);
    case 'profile':
      return controlTrain(w, subject);
    case 'overdue':
      return edgeOverdue(w, subject);
    case 'stand':
      return provenStanding(w, subject);
    case 'approach':
      return releaseApproach(w, subject);
    case 'draw-up':
      return drawUp(w, subject);
    case 'settle':
      return settleLineUp(w);
    case 'request':
    case 'depart':
    case 'plan':
    case 'patience':
    case 'dispatch':
      w.state.dispatching.due = true;
  }
}

import { clearAlarm } from './alarms.js';
import { occupiedOnPath } from './line-up.js';
import { piecesOf } from '../interlocking/held-path.js';
import { blockOf, opposite } from '../layout/layout.js';
import { clearHalt } from '../movement/halt.js';
import { stands } from '../movement/standing.js';
import { doubtOf, forgetDoubt, isOwnPlace, leaveDoubt, personSpeaks } from '../occupancy/doubt.js';
import { proveTail } from '../occupancy/tail-proof.js';
import { confirmPlace } from './confirm-place.js';
import { goOn } from './go-on.js';
import { mayRun } from './phase.js';
import { liftTrain, nodeIn, placeTrain } from './placing.js';
import { refusal, type Refusal } from './refusal.js';
import { tooFarApart } from './run-on.js';
import type { Writer } from './writer.js';

/**
 * A person says where a train stands. The same block as believed is confirmed; another is taken over when the train is
 * at rest, the block is held by nobody else and the train's work can go on from there.
 */
export function declarePlace(
  w: Writer,
  by: string,
  index: number,
  heading: number,
  eitherWay = false,
): Refusal | null {
  const train = w.state.trains[index]!;
  const { label } = w.world.stock.trains[index]!.file;
  if (!mayBeMoved(w, index)) {
    return refusal('moving', `${label} is running; stop it before saying where it stands.`);
  }
  const last = train.path.at(-1);
  const same = last !== undefined && blockOf(heading) === blockOf(last.heading);
  const asBelieved = same && (eitherWay || heading === last.heading);
  const far = asBelieved ? cannotReach(w, index) : null;
  if (far !== null) return far;
  const elsewhere = !isOwnPlace(w, index, blockOf(heading));
  if (personSpeaks(w, by, index, blockOf(heading)) && elsewhere) {
    if (doubtOf(w, index) !== undefined) {
      w.train(index).identity.evidence =
        `${by} saw it in another train's place; say where those stand.`;
    }
    return null;
  }
  if (asBelieved) {
    leaveDoubt(w, index);
    // A halted train may not be where it was reckoned: its head is found anew in what it occupies.
    w.train(index).adrift ||= train.activity.kind === 'halted';
    confirmPlace(w, index, 'declared', `${by} saw it there.`);
    settle(w, index);
    return null;
  }
  return moveTo(w, by, index, eitherWay ? usableHeading(w, index, heading) : heading);
}

/** Why a train cannot be all that is detected on its way, in a line-up after which that is all there is to go by. */
function cannotReach(w: Writer, index: number): Refusal | null {
  if (w.state.session.phase.kind !== 'line-up' || !w.state.trains[index]!.adrift) return null;
  const far = tooFarApart(w.world, index, occupiedOnPath(w.world, w.state, index));
  if (far === null) return null;
  const { label } = w.world.stock.trains[index]!.file;
  const { id } = w.world.layout.sections[far]!;
  return refusal(
    'too-far-apart',
    `${label} is too short to stand on all that is occupied on its way up to section ${id}; see what else stands there, or say in which other block it stands.`,
  );
}

function moveTo(w: Writer, by: string, index: number, heading: number): Refusal | null {
  const { layout, stock, graphs } = w.world;
  const { label } = stock.trains[index]!.file;
  const block = layout.elements[blockOf(heading)]!;
  const { holder } = w.state.elements[block.index]!;
  if (holder >= 0 && holder !== index) {
    return refusal(
      'block-held',
      `Block ${block.id} is held for ${stock.trains[holder]!.file.label}; move that train first.`,
    );
  }
  if (block.length < stock.trains[index]!.length) {
    return refusal('too-long', `${label} is longer than block ${block.id}.`);
  }
  const node = nodeIn(w, index, heading);
  if (graphs[index]!.distance(node) === Infinity) {
    return refusal(
      'no-way-on',
      `From block ${block.id} that way round, ${label} cannot go on with its work.`,
    );
  }
  forgetDoubt(w, index);
  liftTrain(w, index);
  placeTrain(w, index, heading);
  confirmPlace(w, index, 'declared', `${by} saw it there.`);
  settle(w, index);
  return null;
}

/** The way round from which the train can go on with its work; towards b if both or neither. */
function usableHeading(w: Writer, index: number, heading: number): number {
  const usable = (candidate: number): boolean =>
    w.world.graphs[index]!.distance(nodeIn(w, index, candidate)) < Infinity;
  return usable(heading) || !usable(opposite(heading)) ? heading : opposite(heading);
}

function settle(w: Writer, index: number): void {
  clearAlarm(w, `identity:${index}`);
  clearHalt(w, index);
  if (mayRun(w.state)) {
    // What it has left may have read free before: no message will come of that.
    proveTail(w, index);
    goOn(w, index);
  }
  for (const { section } of piecesOf(w.world.layout, w.state.trains[index]!.path)) {
    if (section >= 0) clearAlarm(w, `stranger:${w.world.layout.sections[section]!.id}`);
  }
}

/** Places may be corrected while nothing runs, or for a train that was stopped for a fault. */
function mayBeMoved(w: Writer, index: number): boolean {
  const { phase } = w.state.session;
  const { activity } = w.state.trains[index]!;
  if (phase.kind === 'line-up') return true;
  return activity.kind === 'absent' || (activity.kind === 'halted' && stands(w, index));
}

/** A person says that a train is not on the layout: all it held is given up. */
export function confirmAbsent(w: Writer, index: number): Refusal | null {
  const { label } = w.world.stock.trains[index]!.file;
  if (!mayBeMoved(w, index)) {
    return refusal('moving', `${label} is running; stop it before taking it off.`);
  }
  forgetDoubt(w, index);
  liftTrain(w, index);
  clearAlarm(w, `train:${index}`);
  clearAlarm(w, `identity:${index}`);
  return null;
}

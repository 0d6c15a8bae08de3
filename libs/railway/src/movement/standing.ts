import { piecesOf } from '../interlocking/held-path.js';
import { clearDeadline, hasDeadline, setDeadline } from '../session/deadlines.js';
import { placeHead } from './train-motion.js';
import type { Seen, Writer } from '../session/writer.js';
import { instant } from '../units.js';
import { nextBoundary } from './overdue.js';
import { rangeAt, standsFrom } from './reckoning.js';

/**
 * How long a section must read free, ms, until that tells that a standing train's head is not in it though it may have lost
 * contact there: longer than contact stays lost under a train that stands; common practice, no source.
 */
const CONTACT_LOST_AT_MOST = 30_000;

/** Time beyond the longest stopping time before a train is proven standing, in ms. */
const STAND_MARGIN = 300;

/** Whether a train is proven standing: told to stop, its longest stopping time over, no edge since. */
export const stands = (w: Pick<Seen, 'state'>, index: number): boolean =>
  w.state.trains[index]!.reckoning.nominal.target === 0 && !hasDeadline(w.state, 'stand', index);

/** Arranges the proof of standing after a command to stop; takes it back when the train is told to run. */
export function awaitStanding(w: Writer, index: number): void {
  const until = standsFrom(w.world.models[index]!, w.state.trains[index]!.reckoning);
  if (until === null) clearDeadline(w.state, 'stand', index);
  else setDeadline(w.state, 'stand', index, Math.max(until, w.now) + STAND_MARGIN);
}

/**
 * A train that came to rest short of a section it should have been seen in is known better after a while: that section
 * reads free, so the head has not reached it. Then it draws up. Arranges that moment.
 */
export function awaitDrawingUp(w: Writer, index: number): void {
  const next = nextBoundary(w, index);
  if (next === undefined || next.at > w.state.trains[index]!.mark) return;
  const { worstDelay, holdOff } = w.world.layout.sections[next.section]!.detector;
  const isBlind = w.state.trains[index]!.blind.includes(next.section);
  const patience = isBlind ? CONTACT_LOST_AT_MOST : worstDelay.occupied + holdOff;
  setDeadline(w.state, 'draw-up', index, w.now + patience);
}

/**
 * The section ahead has read free long enough: the head is before it, and the train may go on to its mark. Whether it draws
 * up or not, what waited for that is looked at again.
 */
export function drawUp(w: Writer, index: number): void {
  const train = w.train(index);
  if (train.activity.kind !== 'standing') return;
  w.follow({ kind: 'control', train: index });
  const next = nextBoundary(w, index);
  if (next === undefined || next.at > train.mark || !readsFree(w, next.section)) return;
  train.blind = train.blind.filter((each) => each !== next.section);
  const { low, high } = rangeAt(w.world.models[index]!, train.reckoning, instant(w.now));
  const furthest = Math.min(Math.ceil(high / 1000), next.at);
  const nearest = Math.min(Math.floor(low / 1000), furthest, reachOfRear(w, index));
  placeHead(w, index, Math.max(nearest, Math.min(train.edge, furthest)), furthest);
}

/**
 * How far the head may be at most, mm of its way, so that the train still reaches back to the rearmost section that reads
 * occupied: it may have stalled unnoticed, and is not where it was told to stop.
 */
function reachOfRear(w: Writer, index: number): number {
  const { path, tail } = w.state.trains[index]!;
  const rear = piecesOf(w.world.layout, path).find(
    ({ section, end }) =>
      end > tail && section >= 0 && w.state.sections[section]!.belief === 'occupied',
  );
  return rear === undefined ? Infinity : rear.end + w.world.stock.trains[index]!.length;
}

/** Whether a detector is alive and says that nothing is in its section. */
function readsFree(w: Writer, index: number): boolean {
  const section = w.state.sections[index]!;
  const { bus, district } = w.world.layout.sections[index]!;
  return (
    section.belief === 'clear' &&
    section.raw !== true &&
    w.state.buses[bus.id] === true &&
    w.state.districts[district]!.power === 'on'
  );
}

/** The longest stopping time is over. */
export function provenStanding(w: Writer, index: number): void {
  const train = w.train(index);
  w.state.dispatching.due = true;
  if (hasDeadline(w.state, 'approach', index)) w.follow({ kind: 'release-approach', train: index });
  w.follow({ kind: 'settle-doubt', train: index });
  if (train.activity.kind !== 'moving') return;
  train.activity = { kind: 'standing' };
  train.waitingSince = w.now;
  w.follow({ kind: 'control', train: index });
  awaitDrawingUp(w, index);
}

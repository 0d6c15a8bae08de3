import type { WaitReason } from '../session/wait-reason.js';
import type { Writer } from '../session/writer.js';
import { timeToTravel } from '../movement/motion.js';
import { callBefore } from '../timetable/departure.js';
import { fastNow } from '../timetable/fast-clock.js';
import { callFrom } from '../timetable/legs.js';
import type { Call } from '../timetable/timetable.js';
import { um } from '../units.js';
import { cutWait, emptyLedger, enter, partsOf, reach, type DelayParts } from './delay-ledger.js';
import { waitedFor, waitPlace } from './waited-for.js';

/** Notes that a train waits for something else from now on, or no more. */
export function noteWait(w: Writer, index: number, wait: WaitReason | null): void {
  const ledger = w.train(index).delay;
  cutWait(ledger, wholeFast(w));
  ledger.open =
    wait === null || !costsTime(wait)
      ? null
      : {
          train: waitedFor(w, index, wait),
          place: waitPlace(w, index, wait),
          why: wait.kind,
          from: costsFrom(w, index),
        };
}

/** Notes the departure from a call. */
export function noteDeparture(w: Writer, index: number): void {
  const { leg, delay } = w.train(index);
  const from = callFrom(w.world.graphs[index]!, leg);
  const call = callBefore(w.world, index, leg);
  if (from === null || call === null || call.depart === null) return;
  const fast = wholeFast(w);
  if (from.call === 0) enter(delay, call.depart, readyAt(w, index, call), fast);
  else reach(delay, call.depart, fast);
}

/** Notes an arrival, or a passing, and gives what became of the time until then; null where none is booked. */
export function noteArrival(w: Writer, index: number, call: Call): DelayParts | null {
  const { delay } = w.train(index);
  if (call.arrive === null) return null;
  reach(delay, call.arrive, wholeFast(w));
  if (!call.stops && call.depart !== null) reach(delay, call.depart, wholeFast(w));
  return delay.last === null ? null : partsOf(delay);
}

/** Begins to count anew where a service begins. */
export function beginService(w: Writer, index: number): void {
  const from = callFrom(w.world.graphs[index]!, w.state.trains[index]!.leg);
  if (from?.call === 0) w.train(index).delay = emptyLedger();
}

const wholeFast = (w: Writer): number => Math.round(fastNow(w.state.session.clock, w.now));

/** Whether the train would go on if it did not wait: neither its timetable nor the session keeps it. */
function costsTime({ kind }: WaitReason): boolean {
  switch (kind) {
    case 'booked':
    case 'dwell':
    case 'finished':
    case 'not-running':
      return false;
    default:
      return true;
  }
}

/** From when on a wait that begins now costs time, fast ms: ready at a call, or, while running, at the end of the way. */
function costsFrom(w: Writer, index: number): number {
  const train = w.state.trains[index]!;
  const fast = wholeFast(w);
  if (train.arrivedAt !== null) {
    const call = callBefore(w.world, index, train.leg);
    return call === null ? fast : Math.max(fast, call.depart ?? fast, readyAt(w, index, call));
  }
  if (train.activity.kind !== 'moving') return fast;
  const { nominal } = train.reckoning;
  const distance = um(train.mark * 1000 - nominal.position);
  const time = timeToTravel(nominal, w.world.models[index]!.nominal, distance) ?? 0;
  const left = Math.max(0, nominal.since + time - w.now);
  return fast + Math.round(left * w.state.session.clock.ratio);
}

/** The fast time at which a train at a call has dwelt on both clocks, taking it that the fast clock runs evenly. */
function readyAt(w: Writer, index: number, { dwellFast, dwellReal }: Call): number {
  const { arrivedAt, arrivedReal } = w.state.trains[index]!;
  const { clock } = w.state.session;
  const real = fastNow(clock, w.now) + (arrivedReal + dwellReal - w.now) * clock.ratio;
  return Math.round(Math.max((arrivedAt ?? 0) + dwellFast, real));
}

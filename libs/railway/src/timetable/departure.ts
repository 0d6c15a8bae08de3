import { isCancelled } from '../dispatching/wishes/cancelled.js';
import { setDeadline } from '../session/deadlines.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { EngineState, FastClock, TrainState } from '../session/state.js';
import type { World } from '../session/world.js';
import type { Writer } from '../session/writer.js';
import { fastNow, instantOf } from './fast-clock.js';
import { callFrom, callTo } from './legs.js';
import type { Call } from './timetable.js';

/** The call at which a train stands before it begins its leg. Null before its first service has a place. */
export function callBefore(world: World, index: number, leg: number): Call | null {
  const from = callFrom(world.graphs[index]!, leg);
  return from === null ? null : world.timetable.services[from.service]!.calls[from.call]!;
}

/**
 * What keeps a train at its call: booked time, dwell on the fast clock and in real time, a connection, departures held,
 * a person. Null: it may leave. The moment to ask again is arranged.
 */
export function departureWait(w: Writer, index: number): WaitReason | null {
  const { session, trains } = w.state;
  const train = trains[index]!;
  if (session.phase.kind === 'paused') return { kind: 'not-running' };
  const call = callBefore(w.world, index, train.leg);
  if (call !== null) {
    const fast = fastNow(session.clock, w.now);
    if (call.depart !== null && fast < call.depart) {
      wake(w, index, instantOf(session.clock, call.depart));
      return { kind: 'booked', depart: call.depart };
    }
    const dwelt = dweltAt(session.clock, call, train, w.now);
    if (dwelt > w.now) {
      wake(w, index, dwelt);
      return { kind: 'dwell', until: fast + (dwelt - w.now) * session.clock.ratio };
    }
    const connection = connectionWait(w, index, fast);
    if (connection !== null) return connection;
  }
  if (session.phase.kind === 'ending' && startsService(w.world, index, train.leg)) {
    return { kind: 'not-running' };
  }
  return session.departuresHeld ? { kind: 'departures-held' } : null;
}

/** When a train has dwelt at its call on both clocks, physical ms; on a fast clock that can't be told now, in real time alone. */
export const dweltAt = (
  clock: FastClock,
  { dwellFast, dwellReal }: Call,
  { arrivedAt, arrivedReal }: Pick<TrainState, 'arrivedAt' | 'arrivedReal'>,
  now: number,
): number => Math.max(instantOf(clock, arrivedAt! + dwellFast) ?? now, arrivedReal + dwellReal);

function wake(w: Writer, index: number, at: number | null): void {
  if (at !== null) setDeadline(w.state, 'depart', index, Math.max(at, w.now + 1));
}

/** Whether a leg is the first of a service. */
function startsService(world: World, index: number, leg: number): boolean {
  return callTo(world.graphs[index]!, leg)?.call === 1;
}

/** A connecting service not yet in, as long as it is worth waiting for. */
function connectionWait(w: Writer, index: number, fast: number): WaitReason | null {
  const from = callFrom(w.world.graphs[index]!, w.state.trains[index]!.leg);
  if (from === null) return null;
  const { connections, services } = w.world.timetable;
  for (const connection of connections) {
    const call = services[from.service]!.calls[from.call]!;
    if (connection.to !== from.service || connection.station !== call.station) continue;
    if (isCancelled(w, connection.from)) continue;
    const until = (call.depart ?? fast) + connection.holdAtMost;
    if (fast >= until) continue;
    const arrived = arrivalOf(w.state, w.world, connection.from, connection.station);
    const ready = arrived === null ? until : arrived + connection.transfer;
    if (fast >= ready) continue;
    wake(w, index, instantOf(w.state.session.clock, Math.min(ready, until)));
    return { kind: 'connection', service: connection.from, until };
  }
  return null;
}

/** When a service arrived at a station, fast ms; null: not yet. */
export function arrivalOf(
  state: EngineState,
  world: World,
  service: number,
  station: number,
): number | null {
  for (const train of state.trains) {
    for (const record of train.calls) {
      if (record.service !== service || record.arrived === null) continue;
      const call = world.timetable.services[service]!.calls[record.call];
      if (call?.station === station) return record.arrived;
    }
  }
  return null;
}

/** The fast time of the next thing booked for a train: its departure, else its arrival. Null: nothing. */
export function nextBooked(w: Writer, index: number): number | null {
  const train = w.state.trains[index]!;
  if (train.arrivedAt !== null) {
    const call = callBefore(w.world, index, train.leg);
    if (call?.depart) return call.depart;
  }
  const to = callTo(w.world.graphs[index]!, train.leg);
  if (to === null) return null;
  const call = w.world.timetable.services[to.service]!.calls[to.call]!;
  return call.arrive ?? call.depart;
}

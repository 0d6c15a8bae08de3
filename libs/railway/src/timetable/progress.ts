import type { CallRecord } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { beginService, noteArrival, noteDeparture, noteWait } from '../waiting/keep-delays.js';
import { callFrom, callTo, legOf, legStops } from './legs.js';
import type { CallRef } from './working-stops.js';
import { fastNow } from './fast-clock.js';

/** Notes that a standing train has arrived where its held path ends, if that is the call it was running to. */
export function arrive(w: Writer, index: number): void {
  const train = w.train(index);
  const graph = w.world.graphs[index]!;
  const last = train.path[train.path.length - 1]!;
  if (train.arrivedAt !== null || train.path.length - 1 > train.authorised) return;
  if (train.edge < last.start || legOf(graph, train.node) === train.leg) return;
  const fast = fastNow(w.state.session.clock, w.now);
  passLegs(w, index, legOf(graph, train.node) - 1);
  const to = callTo(graph, train.leg)!;
  noteCall(w, index, to, fast);
  train.leg = legOf(graph, train.node);
  train.arrivedAt = fast;
  train.arrivedReal = w.now;
  train.nodes = [train.node];
  const { label } = w.world.stock.trains[index]!.file;
  const call = w.world.timetable.services[to.service]!.calls[to.call]!;
  beginService(w, index);
  // What it waits for already costs nothing until it should leave.
  noteWait(w, index, train.wait);
  w.log(`${label} arrived at ${w.world.layout.stations[call.station]!.file.name}.`, index);
}

/** Notes the departure from a call, when the first way beyond it is granted. */
export function depart(w: Writer, index: number): void {
  const train = w.train(index);
  if (train.arrivedAt === null) return;
  const from = callFrom(w.world.graphs[index]!, train.leg);
  const fast = fastNow(w.state.session.clock, w.now);
  if (from !== null) {
    record(w, index, from.service, from.call).departed = fast;
    noteDeparture(w, index);
    const call = w.world.timetable.services[from.service]!.calls[from.call]!;
    const { label } = w.world.stock.trains[index]!.file;
    w.log(`${label} leaves ${w.world.layout.stations[call.station]!.file.name}.`, index);
  }
  train.arrivedAt = null;
}

/** Notes calls passed without stopping, as the head is seen in their tracks. */
export function passCalls(w: Writer, index: number): void {
  const train = w.state.trains[index]!;
  const graph = w.world.graphs[index]!;
  for (const item of train.path) {
    if (item.heading < 0 || item.start > train.edge) continue;
    if (legStops(graph, train.leg)) return;
    if (graph.isTarget(train.leg, item.heading)) passLegs(w, index, train.leg + 1);
  }
}

/** Writes down as passed every call up to the leg given. */
function passLegs(w: Writer, index: number, upTo: number): void {
  const train = w.train(index);
  const fast = fastNow(w.state.session.clock, w.now);
  while (train.leg < upTo) {
    const to = callTo(w.world.graphs[index]!, train.leg)!;
    noteCall(w, index, to, fast).departed = fast;
    train.leg++;
  }
}

/** Notes the arrival at a call, and what became of the time until then. */
function noteCall(w: Writer, index: number, { service, call }: CallRef, fast: number): CallRecord {
  const made = record(w, index, service, call);
  made.arrived = fast;
  made.delay = noteArrival(w, index, w.world.timetable.services[service]!.calls[call]!);
  return made;
}

/** The record of a call, made if there is none yet. */
function record(w: Writer, index: number, service: number, call: number): CallRecord {
  const { calls } = w.train(index);
  const found = calls.find((each) => each.service === service && each.call === call);
  if (found !== undefined) return found;
  const made: CallRecord = { service, call, arrived: null, departed: null, delay: null };
  calls.push(made);
  return made;
}

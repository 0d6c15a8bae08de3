import { setDeadline } from '../session/deadlines.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { Seen, Writer } from '../session/writer.js';
import { callBefore } from '../timetable/departure.js';
import { fastNow, instantOf } from '../timetable/fast-clock.js';
import { callFrom, callTo } from '../timetable/legs.js';
import { rulesOf } from './look-at-yard.js';
import { holdsOfTrain } from './conditions.js';
import { inOrderOfLeaving, type DueTrain } from './order-keys.js';
import type { YardRulesFile } from './staging-rules-file.js';

const MINUTE = 60_000;

/**
 * What keeps a train that is due in a staging yard, by the rules: the place where it goes has not asked for one yet. Null:
 * nothing. The moment to ask again is arranged.
 */
export function requestWait(w: Writer, index: number): WaitReason | null {
  const rules = rulesWhere(w, index);
  const { leg } = w.state.trains[index]!;
  const to = callTo(w.world.graphs[index]!, leg);
  if (rules === null || rules.departures.requests.length === 0 || to === null) return null;
  const { station } = w.world.timetable.services[to.service]!.calls[to.call]!;
  const fast = fastNow(w.state.session.clock, w.now);
  const depart = callBefore(w.world, index, leg)?.depart ?? w.state.trains[index]!.arrivedAt!;
  const { file, length } = w.world.stock.trains[index]!;
  const asked = { id: file.id, class: file.class, length, depart, berths: [] };
  const request = rules.departures.requests.find(
    ({ when }) => when === undefined || holdsOfTrain(when, asked, fast),
  );
  if (request === undefined || trainsFor(w, station) < request.fewerThan) return null;
  const until = depart + request.minutes * MINUTE;
  if (fast >= until) return null;
  const at = instantOf(w.state.session.clock, until);
  if (at !== null) setDeadline(w.state, 'plan', index, Math.max(at, w.now + 1));
  return { kind: 'not-asked-for', station, until };
}

/** How many trains are at a station or on their way to it. */
const trainsFor = ({ world, state }: Seen, station: number): number =>
  state.trains.filter(({ activity, arrivedAt, leg }, index) => {
    if (activity.kind === 'absent') return false;
    const graph = world.graphs[index]!;
    const at = arrivedAt === null ? callTo(graph, leg) : callFrom(graph, leg);
    return at !== null && world.timetable.services[at.service]!.calls[at.call]!.station === station;
  }).length;

/** The same trains in the order in which they are asked, those that are due in a yard among themselves as its rules have it. */
export function inYardOrder(w: Writer, trains: readonly number[]): number[] {
  if (w.state.staging.rules === null) return [...trains];
  const order = [...trains];
  for (const rules of w.state.staging.rules.yards) {
    if (rules.departures.order.length === 0) continue;
    const places = order.flatMap((index, place) => (rulesWhere(w, index) === rules ? [place] : []));
    const due = places.map((place) => dueTrain(w, order[place]!));
    inOrderOfLeaving(rules.departures.order, due).forEach(
      ({ train }, at) => (order[places[at]!] = train),
    );
  }
  return order;
}

/** Whether the order in which a train leaves is for the rules of its yard, before any plan. */
export const leavesByRules = (w: Writer, index: number): boolean =>
  (rulesWhere(w, index)?.departures.order.length ?? 0) > 0;

/** The rules of the yard in which a train stands and is due to leave; null: there are none. */
function rulesWhere(w: Writer, index: number): YardRulesFile | null {
  const { arrivedAt, leg } = w.state.trains[index]!;
  if (arrivedAt === null || w.state.staging.rules === null) return null;
  const call = callBefore(w.world, index, leg);
  if (call === null || (call.depart ?? 0) > fastNow(w.state.session.clock, w.now)) return null;
  return rulesOf(w, call.station);
}

function dueTrain({ world, state, now }: Writer, index: number): DueTrain {
  const { arrivedAt, calls, leg } = state.trains[index]!;
  const { file } = world.stock.trains[index]!;
  const call = callBefore(world, index, leg)!;
  return {
    train: index,
    class: file.class,
    priority: file.priority,
    depart: call.depart ?? fastNow(state.session.clock, now),
    since: arrivedAt!,
    departures: calls.filter(
      (it) =>
        it.departed !== null &&
        world.timetable.services[it.service]!.calls[it.call]!.station === call.station,
    ).length,
  };
}

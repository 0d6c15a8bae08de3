import { stationOfTrain } from '../dispatching/added/joins.js';
import type { PlaceInWork } from '../dispatching/added/place-in-work.js';
import type { Seen } from '../session/writer.js';
import { fastNow } from '../timetable/fast-clock.js';
import { callFrom } from '../timetable/legs.js';
import type { OpenService } from '../timetable/timetable.js';
import { bookedToLeave } from './booked.js';
import type { DueTrain } from './order-keys.js';

/** Trains that stand in the yard where a service begins and may work it, for they have begun no other. */
export function freeTrains(seen: Seen, { station, file }: OpenService): DueTrain[] {
  const { world, state } = seen;
  return world.stock.trains.flatMap(({ file: train }, index) => {
    if (file.classes !== undefined && !file.classes.includes(train.class)) return [];
    if (!isFree(seen, index) || stationOfTrain(seen, index) !== station) return [];
    const { arrivedAt, calls, leg } = state.trains[index]!;
    const left = calls.filter(
      (it) =>
        it.departed !== null &&
        world.timetable.services[it.service]!.calls[it.call]!.station === station,
    );
    return [
      {
        train: index,
        class: train.class,
        priority: train.priority,
        depart: bookedToLeave(world, index, leg) ?? Infinity,
        // One that was put there without work has stood there since the session began.
        since:
          arrivedAt ?? Math.min(world.timetable.start, fastNow(state.session.clock, state.now)),
        departures: left.length,
      },
    ];
  });
}

/** Whether a train stands between two services, or has none, and nobody keeps it. */
function isFree({ world, state }: Seen, index: number): boolean {
  const train = state.trains[index]!;
  const graph = world.graphs[index]!;
  if (train.activity.kind !== 'standing' || !train.confirmed || train.held) return false;
  if (train.handSpeed !== null || train.identity.certainty === 'ambiguous') return false;
  if (train.path.length - 1 > train.authorised) return false;
  if (graph.isGoal(train.node)) return true;
  if (train.arrivedAt === null || graph.placeOf(train.node).leg !== train.leg) return false;
  const from = callFrom(graph, train.leg);
  return from === null || from.call === 0 || isLast({ world, state }, from);
}

/** Whether, put in there, a service is the next that a free train runs. */
export function isNextIn(
  { world, state }: Seen,
  index: number,
  { before, after }: Pick<PlaceInWork, 'before' | 'after'>,
): boolean {
  const from = callFrom(world.graphs[index]!, state.trains[index]!.leg);
  if (from === null) return before === null;
  return from.call === 0 ? after?.index === from.service : before?.index === from.service;
}

const isLast = ({ world }: Seen, { service, call }: { service: number; call: number }): boolean =>
  call === world.timetable.services[service]!.calls.length - 1;

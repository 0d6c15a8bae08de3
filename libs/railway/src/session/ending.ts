import { settleClock } from '../timetable/fast-clock.js';
import { callTo } from '../timetable/legs.js';
import type { Seen, Writer } from './writer.js';

/** An ending session has ended when every train stands at a call. */
export function endIfAtRest(w: Writer): void {
  if (w.state.session.phase.kind !== 'ending') return;
  if (w.state.trains.some((_, index) => isUnderWay(w, index))) return;
  const session = w.session();
  settleClock(session.clock, w.now);
  session.clock.running = false;
  session.phase = { kind: 'ended' };
  w.log('The session has ended; every train stands at a booked place.');
}

/** Whether a train is still to come to a call, or moves up in its track. One that was put on the layout without work has none to come to. */
function isUnderWay({ world, state }: Seen, index: number): boolean {
  const { activity, arrivedAt, leg } = state.trains[index]!;
  if (activity.kind === 'absent') return false;
  if (activity.kind === 'moving') return true;
  return arrivedAt === null && callTo(world.graphs[index]!, leg) !== null;
}

/** Where every train stands, as the next session's stored places: block id and the end its front looks to. */
export interface StoredPlace {
  readonly train: string;
  readonly block: string;
  readonly towards: 'a' | 'b';
}

/** The next line-up, from a session at rest. A front that trails looks to the end behind. */
export function storedPlaces({ world, state }: Seen): StoredPlace[] {
  return state.trains.flatMap((train, index) => {
    const last = train.path.at(-1);
    if (train.activity.kind === 'absent' || last === undefined || last.heading < 0) return [];
    const ahead = (last.heading & 1) === 0 ? 'b' : 'a';
    const behind = ahead === 'b' ? 'a' : 'b';
    return [
      {
        train: world.stock.trains[index]!.file.id,
        block: world.layout.elements[last.element]!.id,
        towards: train.frontLeads ? ahead : behind,
      },
    ];
  });
}

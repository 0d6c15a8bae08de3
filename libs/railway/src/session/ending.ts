import { settleClock } from '../timetable/fast-clock.js';
import type { Seen, Writer } from './writer.js';

/** An ending session has ended when every train stands at a call. */
export function endIfAtRest(w: Writer): void {
  if (w.state.session.phase.kind !== 'ending') return;
  const underWay = w.state.trains.some(
    (train) => train.activity.kind !== 'absent' && train.arrivedAt === null,
  );
  if (underWay) return;
  const session = w.session();
  settleClock(session.clock, w.now);
  session.clock.running = false;
  session.phase = { kind: 'ended' };
  w.log('The session has ended; every train stands at a booked place.');
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

import type { ServiceId } from '../../ids.js';
import type { Heading } from '../../layout/layout.js';
import { permittedIn } from '../../layout/standing-room.js';
import { refusal, type Refusal } from '../../session/refusal.js';
import type { Writer } from '../../session/writer.js';
import { parseClockText } from '../../timetable/clock-text.js';
import { fastNow } from '../../timetable/fast-clock.js';
import type { CallFile, ClockText, ServiceFile } from '../../timetable/timetable-file.js';
import { stationOfTrain } from './joins.js';
import type { PlaceInWork } from './place-in-work.js';
import { withTimes } from './timed-calls.js';

/** What a dispatcher wants a train to do beside its work. */
export interface WantedService {
  readonly name: string;
  /**
   * As in a timetable. Where no call has a time, the train goes as soon as it can, and the calls get times for that. One call alone is
   * where it is to go from where it will be then.
   */
  readonly calls: readonly CallFile[];
  /** Of a service without times: when it leaves at the earliest. */
  readonly notBefore?: ClockText | undefined;
}

export const isUntimed = ({ calls }: WantedService): boolean =>
  calls.every(({ arrive, depart }) => arrive === undefined && depart === undefined);

/** The service as a timetable would have it: with where it begins, and with times. */
export function asService(
  w: Writer,
  index: number,
  wanted: WantedService,
  place: PlaceInWork,
): ServiceFile | Refusal {
  const { label } = w.world.stock.trains[index]!.file;
  const id = unusedId(w);
  let { calls } = wanted;
  if (calls.length === 1) {
    const station = place.before?.calls.at(-1)?.station ?? stationOfTrain(w, index);
    const begin = w.world.layout.stations[station]?.file.id;
    if (begin === undefined) {
      return refusal(
        'no-station',
        `${label} stands where no station is, so no service can begin there. Send it to a station by a route first.`,
      );
    }
    calls = [{ station: begin }, ...calls];
  }
  if (!isUntimed(wanted)) return { id, name: wanted.name, calls };
  const timed = withTimes(w, index, calls, beginsFrom(w, index, place), freeFrom(w, wanted, place));
  return { id, name: wanted.name, calls: timed };
}

function unusedId({ world }: Writer): ServiceId {
  const taken = new Set<string>(world.timetable.services.map(({ file }) => file.id));
  let number = 1;
  while (taken.has(`added-${number}`)) number++;
  return `added-${number}` as ServiceId;
}

/** When the train is free for it, fast ms. */
function freeFrom(w: Writer, { notBefore }: WantedService, { before }: PlaceInWork): number {
  const now = fastNow(w.state.session.clock, w.now);
  const end = before?.calls.at(-1);
  const free = (end?.arrive ?? now) + (end?.dwellFast ?? 0);
  const wanted = notBefore === undefined ? null : parseClockText(notBefore);
  return Math.max(now, free, wanted ?? now);
}

/** Headings at whose ends the train may stand when it begins. */
function beginsFrom({ world, state }: Writer, index: number, { before }: PlaceInWork): Heading[] {
  const end = before?.calls.at(-1);
  if (end === undefined) return [world.graphs[index]!.placeOf(state.trains[index]!.node).heading];
  return end.tracks.flatMap(({ blocks }) => permittedIn(world.layout, blocks));
}

import { refusal, type Refusal } from '../../session/refusal.js';
import type { Writer } from '../../session/writer.js';
import { parseClockText } from '../../timetable/clock-text.js';
import type { ClockText } from '../../timetable/timetable-file.js';
import type { Service } from '../../timetable/timetable.js';
import { isCancelled } from '../wishes/cancelled.js';
import { begunServices } from './renumber.js';

/** Where in a train's work a service is put in. */
export interface PlaceInWork {
  /** The train's services without those that are cancelled, and where among them the new one comes. */
  readonly services: readonly number[];
  readonly at: number;
  /** What the train does before and after; null: nothing. */
  readonly before: Service | null;
  readonly after: Service | null;
}

/** Before the service named; where none is, before the first that leaves later than `leaves`, or at the end. */
export function placeInWork(
  w: Writer,
  index: number,
  leaves: ClockText | undefined,
  before: number | null,
): PlaceInWork | Refusal {
  const { timetable, graphs } = w.world;
  const services = (timetable.workings[index]?.services ?? []).filter((it) => !isCancelled(w, it));
  const begun = begunServices(w.state, graphs[index]!, index);
  const least = services.findLastIndex((it) => begun.has(it)) + 1;
  const { label } = w.world.stock.trains[index]!.file;
  const at = before === null ? byTime(w, services, least, leaves) : services.indexOf(before);
  if (at < 0) {
    return refusal('no-such-service', `${label} has no such service before which it could run.`);
  }
  if (at < least) {
    const { name } = timetable.services[before!]!.file;
    return refusal('too-late', `${label} runs ${name} already, or has its way for it.`);
  }
  const of = (place: number): Service | null => timetable.services[services[place] ?? -1] ?? null;
  return { services, at, before: of(at - 1), after: of(at) };
}

function byTime(
  { world }: Writer,
  services: readonly number[],
  least: number,
  leaves: ClockText | undefined,
): number {
  const time = leaves === undefined ? null : parseClockText(leaves);
  const isLater = (service: number): boolean =>
    time !== null && (world.timetable.services[service]!.calls[0]!.depart ?? 0) > time;
  const found = services.findIndex((it, at) => at >= least && isLater(it));
  return found < 0 ? services.length : found;
}

import { refusal, type Refusal } from '../../session/refusal.js';
import type { Writer } from '../../session/writer.js';
import { formatClockText, parseClockText } from '../../timetable/clock-text.js';
import { fastNow } from '../../timetable/fast-clock.js';
import type { ServiceFile } from '../../timetable/timetable-file.js';
import type { Timetable } from '../../timetable/timetable.js';
import { serviceFaults } from '../../timetable/validate-timetable.js';
import { fastTime } from '../../units.js';
import { insertService } from './insert-service.js';
import { placeInWork } from './place-in-work.js';
import { asService, isUntimed, type WantedService } from './wanted-service.js';

/** So many may be added in a session. */
const MOST = 200;

/** The last time of day that can be written. */
const LATEST = fastTime((99 * 60 + 59) * 60_000);

/**
 * A dispatcher adds a service to the work of a train: before one that it has not begun, or, `before` null, where its times belong,
 * without times at the end. It is compiled as the timetable's own are, and is one of them from then on. Services
 * of the train that are cancelled are left out for good. Refused where it does not fit the train or what that does before and after,
 * where no way leads along it, or where with it the trains could not all finish.
 */
export function addService(
  w: Writer,
  index: number,
  wanted: WantedService,
  before: number | null,
): Refusal | null {
  const unfit = unfitToAdd(w, index, wanted);
  if (unfit !== null) return unfit;
  const place = placeInWork(w, index, wanted.calls[0]?.depart, before);
  if ('code' in place) return place;
  const file = asService(w, index, wanted, place);
  if ('code' in file) return file;
  const [fault] = serviceFaults(file, w.world.layout, hoursFor(w, wanted));
  if (fault !== undefined) {
    return refusal('faulty-service', `${fault.place}: ${fault.text}; ${fault.mend}.`);
  }
  return (
    tooLate(w, file) ?? insertService(w, index, file, place, { before: place.before, late: 0 })
  );
}

/** Who goes as soon as possible may do so after the session's hours, too. */
function hoursFor(
  { world }: Writer,
  wanted: WantedService,
): Pick<Timetable, 'start' | 'end' | 'ratio'> {
  const { start, end, ratio } = world.timetable;
  return { start, end: isUntimed(wanted) ? LATEST : end, ratio };
}

function unfitToAdd(w: Writer, index: number, { name, calls }: WantedService): Refusal | null {
  const { label } = w.world.stock.trains[index]!.file;
  const { kind } = w.state.session.phase;
  if (kind === 'ending' || kind === 'ended') {
    return refusal('ending', 'The session is coming to its end; no service begins any more.');
  }
  if (w.state.trains[index]!.activity.kind === 'absent') {
    return refusal('absent', `${label} is not on the layout. Put it there and say so first.`);
  }
  if (w.state.added.services.length >= MOST) {
    return refusal('too-many', `No more than ${MOST} services can be added to one session.`);
  }
  if (w.world.timetable.services.some(({ file }) => file.name === name)) {
    return refusal('name-taken', `There is a service ${name} already. Give this one another name.`);
  }
  return calls.length > 0
    ? null
    : refusal('faulty-service', 'The service goes nowhere. Enter at least where it is to end.');
}

function tooLate(w: Writer, { calls, name }: ServiceFile): Refusal | null {
  const now = fastNow(w.state.session.clock, w.now);
  const depart = parseClockText(calls[0]?.depart ?? '');
  if (depart === null || depart >= now) return null;
  return refusal(
    'too-late',
    `It is ${formatClockText(fastTime(now))} already. Let ${name} leave later, or give it no times: then it leaves as soon as it can.`,
  );
}

import { insertService } from '../dispatching/added/insert-service.js';
import { placeInWork } from '../dispatching/added/place-in-work.js';
import { clearAlarm, raiseAlarm } from '../session/alarms.js';
import { setDeadline } from '../session/deadlines.js';
import { refusal, type Refusal } from '../session/refusal.js';
import type { EngineState } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { formatClockText } from '../timetable/clock-text.js';
import { fastNow, instantOf } from '../timetable/fast-clock.js';
import type { OpenService } from '../timetable/timetable.js';
import type { ServiceFile } from '../timetable/timetable-file.js';
import { freeTrains, isNextIn } from './free-trains.js';
import { rulesOf } from './look-at-yard.js';
import { inOrderOfLeaving } from './order-keys.js';
import { workedByWords } from './rule-words.js';
import type { OpenRun } from './staging-state.js';

/** Trains that could not work a service are asked again after so long, physical ms. */
const ASKED_AGAIN = 10_000;
/** A service without a train is told of when it is so late, fast ms. */
const TOLD_AFTER = 60_000;

type Awaited = Extract<OpenRun, { kind: 'awaited' }>;

/** Whether a train is still looked for by a service that names none. */
export const awaitsTrain = ({ staging }: EngineState): boolean =>
  staging.open.some(({ kind }) => kind === 'awaited');

/**
 * Services that name no train and are to leave now get one: of the trains that are free in the yard where each begins, the first by the
 * yard's order of departures that can work it so that all trains still finish. One train is asked in a step.
 */
export function giveOpenServices(w: Writer): void {
  const { openServices } = w.world.timetable;
  if (openServices.length === 0 || w.state.session.phase.kind !== 'running') return;
  let next = Infinity;
  const inTime = openServices.map((_, index) => index);
  inTime.sort((a, b) => openServices[a]!.depart - openServices[b]!.depart || a - b);
  for (const index of inTime) {
    const run = w.state.staging.open[index]!;
    if (run.kind === 'awaited') next = Math.min(next, attend(w, index, openServices[index]!, run));
  }
  if (next < Infinity) setDeadline(w.state, 'depart', -1, Math.max(next, w.now));
}

/** Gives a service a train, or gives it up, if it is time; when it is to be looked at again, physical ms. */
function attend(w: Writer, index: number, open: OpenService, run: Awaited): number {
  const { clock } = w.state.session;
  const fast = fastNow(clock, w.now);
  const at = (time: number): number => instantOf(clock, time) ?? Infinity;
  if (fast < open.depart) return at(open.depart);
  if (fast >= open.until) {
    giveUp(w, index, open, run);
    return Infinity;
  }
  const told = open.depart + TOLD_AFTER;
  if (fast >= told) tell(w, open, run);
  const later = Math.min(at(open.until), fast < told ? at(told) : Infinity);
  if (w.now < run.next) return Math.min(run.next, later);
  const due = freeTrains(w, open);
  const order = rulesOf(w, open.station)?.departures.order ?? [];
  const asked = inOrderOfLeaving(order, due).find(({ train }) => !run.refused.includes(train));
  if (asked === undefined) {
    if (run.refused.length === 0) {
      if (run.why !== null) keep(w, index, { ...run, why: null });
      return later;
    }
    keep(w, index, { ...run, refused: [], next: w.now + ASKED_AGAIN });
    return Math.min(w.now + ASKED_AGAIN, later);
  }
  const refused = give(w, asked.train, open, fast - open.depart);
  if (refused !== null) {
    keep(w, index, {
      ...run,
      why: run.refused.length === 0 ? refused.text : run.why,
      refused: [...run.refused, asked.train],
    });
    return w.now;
  }
  const why = workedByWords(order, due.length);
  keep(w, index, {
    kind: 'given',
    train: asked.train,
    service: w.world.timetable.services.length - 1,
    why,
  });
  clearAlarm(w, alarmOf(open));
  const { label } = w.world.stock.trains[asked.train]!.file;
  w.log(`${label} works ${open.file.name}; ${why}`, asked.train);
  return Infinity;
}

/** The service is the train's own from now on; or why it can't be. */
function give(w: Writer, train: number, { file }: OpenService, late: number): Refusal | null {
  const place = placeInWork(w, train, file.calls[0]?.depart, null);
  if ('code' in place) return place;
  if (!isNextIn(w, train, place)) {
    const { label } = w.world.stock.trains[train]!.file;
    return refusal('not-free', `${label} is to leave with another service before.`);
  }
  const service: ServiceFile = { id: file.id, name: file.name, calls: file.calls };
  return insertService(w, train, service, place, { before: null, late });
}

function giveUp(w: Writer, index: number, open: OpenService, run: Awaited): void {
  const why = `${open.file.name} is not run: until ${formatClockText(open.until)} no train could work it. ${whyNone(w, open, run)}`;
  keep(w, index, { kind: 'not-run', why });
  clearAlarm(w, alarmOf(open));
  w.log(why);
}

function tell(w: Writer, open: OpenService, run: Awaited): void {
  raiseAlarm(
    w,
    alarmOf(open),
    `${open.file.name} is to leave and has no train. ${whyNone(w, open, run)}`,
    `Bring a train there that may work it, or let go one that is held there; at ${formatClockText(open.until)} the service is given up.`,
  );
}

const whyNone = ({ world }: Writer, { station }: OpenService, { why }: Awaited): string =>
  why ?? `No train that may work it is free in ${world.layout.stations[station]!.file.name}.`;

const alarmOf = ({ file }: OpenService): string => `open:${file.id}`;

function keep(w: Writer, index: number, run: OpenRun): void {
  w.state.staging.open[index] = run;
  w.changes.session = true;
}

import { clearAlarm, raiseAlarm } from '../session/alarms.js';
import { clearDeadline } from '../session/deadlines.js';
import type { Writer } from '../session/writer.js';
import { settleClock } from '../timetable/fast-clock.js';
import { cutAllPower } from '../session/power.js';
import { awaitStanding } from './standing.js';
import { commandSpeed } from './train-motion.js';

/** Tells a train to brake to a stand at once, leaving what it holds locked. */
export function brake(w: Writer, index: number): void {
  commandSpeed(w, index, 0);
  clearDeadline(w.state, 'profile', index);
  clearDeadline(w.state, 'overdue', index);
  awaitStanding(w, index);
}

/** Stops a train for a fault. It keeps all its track and goes on only when a person says so. */
export function halt(w: Writer, index: number, why: string, mend: string): void {
  const train = w.train(index);
  if (train.activity.kind === 'absent') return;
  brake(w, index);
  train.activity = { kind: 'halted', why };
  const { label } = w.world.stock.trains[index]!.file;
  raiseAlarm(w, `train:${index}`, `${label} was stopped: ${why}.`, mend);
  w.log(`${label} was stopped: ${why}.`, index);
  w.state.dispatching.due = true;
}

/** A person has seen to a halted train. */
export function clearHalt(w: Writer, index: number): void {
  w.train(index).activity = { kind: 'standing' };
  clearAlarm(w, `train:${index}`);
}

/**
 * Stop all now: every train brakes, power and detection stay. If a train moves on even so, only power can stop it:
 * then power goes.
 */
export function stopEverything(w: Writer, why: string): void {
  const { phase } = w.state.session;
  if (phase.kind === 'powerless' || phase.kind === 'set-up') return;
  if (phase.kind === 'stopped') return cutAllPower(w, why);
  w.send({ kind: 'stop-all' });
  w.state.trains.forEach((train, index) => {
    if (train.activity.kind === 'moving') brake(w, index);
  });
  const session = w.session();
  settleClock(session.clock, w.now);
  session.clock.running = false;
  session.phase = { kind: 'stopped', why };
  w.log(`All trains were told to stop: ${why}.`);
}

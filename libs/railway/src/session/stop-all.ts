import { showSignals } from '../interlocking/signals.js';
import { brake } from '../movement/halt.js';
import { forgetHandSpeed } from '../movement/in-hand.js';
import { settleClock } from '../timetable/fast-clock.js';
import { cutAllPower } from './power.js';
import type { Writer } from './writer.js';

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
    forgetHandSpeed(w, index);
  });
  const session = w.session();
  settleClock(session.clock, w.now);
  session.clock.running = false;
  session.phase = { kind: 'stopped', why };
  w.state.trains.forEach((_, index) => showSignals(w, index));
  w.log(`All trains were told to stop: ${why}.`);
}

import { showSignals } from '../interlocking/signals.js';
import { sectionLost } from '../occupancy/detection.js';
import { brake } from '../movement/halt.js';
import { forgetHandSpeed } from '../movement/in-hand.js';
import { stands } from '../movement/standing.js';
import { settleClock } from '../timetable/fast-clock.js';
import { clearAlarm, raiseAlarm } from './alarms.js';
import { clearDeadline, setDeadline } from './deadlines.js';
import type { Writer } from './writer.js';

/** How long after power-up districts and decoders are given to report, in ms. */
const SETTLE = 2000;

/** Turns every district on with all decoders at rest, and begins the line-up. */
export function powerUp(w: Writer): void {
  for (const train of w.world.stock.trains) {
    for (const { file } of train.locomotives) {
      w.send({ kind: 'set-speed', address: file.address, forward: true, step: 0 });
    }
  }
  w.state.districts.forEach((district, index) => {
    if (district.power !== 'on') w.send({ kind: 'set-power', district: index, on: true });
  });
  stopForDoubt(w);
  w.session().phase = { kind: 'line-up', settled: false, resumed: w.state.session.begun };
  w.changes.lineUp = true;
  setDeadline(w.state, 'settle', -1, w.now + SETTLE);
}

/** Cut power: every district off. Nothing is released; what stands where must be confirmed anew. */
export function cutAllPower(w: Writer, why: string): void {
  switchOff(w);
  losePower(w, why);
}

/** Tells the layout to stop and switches it off, whatever the session says of it. */
export function stopLayout(w: Writer): void {
  switchOff(w);
  w.send({ kind: 'stop-all' });
}

function switchOff(w: Writer): void {
  w.state.districts.forEach((_, index) =>
    w.send({ kind: 'set-power', district: index, on: false }),
  );
}

/** A district's booster speaks. Off or shorted, its sections are unknown and all trains are stopped. */
export function powerMessage(w: Writer, index: number, power: 'on' | 'off' | 'short'): void {
  const district = w.district(index);
  if (district.power === power) return;
  district.power = power;
  const name = w.world.layout.districts[index]!;
  if (power === 'on') {
    clearAlarm(w, `power:${index}`);
    awaitReports(w);
    return;
  }
  for (const section of w.world.layout.sections) {
    if (section.district === index) sectionLost(w, section.index);
  }
  const text = power === 'short' ? `District ${name} is shorted` : `District ${name} has no power`;
  const { kind } = w.state.session.phase;
  if (kind === 'set-up' || kind === 'ended' || (kind === 'powerless' && power === 'off')) return;
  raiseAlarm(w, `power:${index}`, `${text}.`, 'Find the cause before power is raised again.');
  if (kind !== 'powerless') losePower(w, text);
}

/** All trains stop where they can still be told to; every place must be confirmed before anything moves again. */
function losePower(w: Writer, why: string): void {
  w.send({ kind: 'stop-all' });
  stopForDoubt(w);
  const session = w.session();
  settleClock(session.clock, w.now);
  session.clock.running = false;
  session.phase = { kind: 'powerless', why };
  w.state.trains.forEach((_, index) => showSignals(w, index));
  clearDeadline(w.state, 'settle', -1);
  w.log(`Power: ${why}. All trains were told to stop.`);
}

/** Brakes every train and lets its place be confirmed anew. */
function stopForDoubt(w: Writer): void {
  w.state.trains.forEach(({ activity }, index) => {
    if (activity.kind === 'absent') return;
    const train = w.train(index);
    train.adrift ||= !stands(w, index);
    brake(w, index);
    train.activity = { kind: 'standing' };
    forgetHandSpeed(w, index);
    train.confirmed = false;
    train.identity.certainty = 'expected';
    train.identity.evidence = 'Its place is remembered and must be confirmed by detection.';
  });
  w.changes.lineUp = true;
}

/** Sections that can speak again have not spoken yet: a line-up waits for them, even if it had settled before. */
function awaitReports(w: Writer): void {
  const { phase } = w.state.session;
  if (phase.kind !== 'line-up') return;
  w.session().phase = { ...phase, settled: false };
  setDeadline(w.state, 'settle', -1, w.now + SETTLE);
}

/** A feedback bus fell silent or is heard again; its sections are unknown until they speak. */
export function busMessage(w: Writer, bus: string, alive: boolean): void {
  if (w.state.buses[bus] === alive) return;
  w.session();
  w.state.buses[bus] = alive;
  if (alive) {
    clearAlarm(w, `bus:${bus}`);
    return awaitReports(w);
  }
  for (const section of w.world.layout.sections) {
    if (section.bus.id === bus) sectionLost(w, section.index);
  }
  raiseAlarm(w, `bus:${bus}`, `Bus ${bus} is silent.`, 'See to its cable and supply.');
  const { kind } = w.state.session.phase;
  if (kind === 'set-up' || kind === 'line-up' || kind === 'powerless' || kind === 'ended') return;
  losePower(w, `bus ${bus} is silent`);
}

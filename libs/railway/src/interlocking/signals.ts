import type { Aspect } from '../session/device.js';
import { mayRun } from '../session/phase.js';
import type { Writer } from '../session/writer.js';

/**
 * The signals at the ends of the blocks a train holds: proceed where it has authority over the two blocks beyond,
 * caution where only over the next or it is called on over the one after, call-on where it is called on, stop elsewhere; stop again as soon as its head is seen past. All of them show stop
 * while no train may run and while this one was stopped for a fault: no signal opens by itself then.
 */
export function showSignals(w: Writer, index: number): void {
  const train = w.state.trains[index]!;
  const mayGo = mayRun(w.state) && train.activity.kind !== 'halted';
  const blocks = train.path.flatMap((item, at) => (item.heading >= 0 ? [{ item, at }] : []));
  blocks.forEach(({ item }, place) => {
    const next = blocks[place + 1];
    const afterNext = blocks[place + 2];
    const open =
      mayGo && next !== undefined && next.at <= train.authorised && train.edge < item.end;
    const further =
      afterNext !== undefined &&
      afterNext.at <= train.authorised &&
      afterNext.item.calledOn !== true;
    const onto = next?.item.calledOn === true ? 'call-on' : further ? 'proceed' : 'caution';
    show(w, item.heading, open ? onto : 'stop');
  });
}

/** Puts one signal to an aspect, where there is a signal. */
export function show(w: Writer, heading: number, aspect: Aspect): void {
  const shown = w.state.signals[heading];
  if (shown === null || shown === undefined || shown === aspect) return;
  w.state.signals[heading] = aspect;
  w.changes.signals.add(heading);
  w.send({ kind: 'set-aspect', heading, aspect });
}

import { proveHeldDrives } from '../interlocking/prove-again.js';
import { leaveDoubt, openDoubt, reportSpeaks } from '../occupancy/doubt.js';
import { addressKey } from '../stock/compile-stock.js';
import { confirmPlace } from './confirm-place.js';
import { lineUpRow, lineUpRows } from './line-up.js';
import type { Writer } from './writer.js';

/** Detection has had its time after power-up: what decoders confirm is taken over, the rest is asked. */
export function settleLineUp(w: Writer): void {
  const { phase } = w.state.session;
  if (phase.kind !== 'line-up') return;
  w.session().phase = { ...phase, settled: true };
  takeLineUp(w);
  doubtTogether(w);
  w.state.dispatching.due = true;
}

/**
 * Trains that stand where one is expected but could not be told apart by their decoders may have changed places: they are
 * in doubt together, and what is said or read of one counts for all.
 */
function doubtTogether(w: Writer): void {
  const open = lineUpRows(w.world, w.state).filter(
    ({ status }) => status === 'ask' || status === 'mismatch',
  );
  if (open.length < 2) return;
  openDoubt(
    w,
    open.map(({ train }) => train),
    'Their decoders were not read where they are expected.',
  );
  w.state.sections.forEach(({ claim, decoders }, section) => {
    if (claim < 0) return;
    for (const address of decoders) {
      const train = w.world.stock.trainByAddress.get(addressKey(address));
      if (train !== undefined) reportSpeaks(w, train, section);
    }
  });
}

/** Takes over, once detection has settled, every place that decoders confirm, and finds the heads again. */
export function takeLineUp(w: Writer): void {
  const { phase } = w.state.session;
  if (phase.kind !== 'line-up' || !phase.settled) return;
  w.state.trains.forEach((train, index) => {
    if (train.activity.kind === 'absent' || train.confirmed) return;
    const row = lineUpRow(w.world, w.state, index);
    if (row.status !== 'confirmed') return;
    confirmPlace(w, index, 'reported', row.text);
    leaveDoubt(w, index);
  });
  proveHeldDrives(w);
  w.changes.lineUp = true;
}

import { refusal, type Refusal } from '../session/refusal.js';
import type { Writer } from '../session/writer.js';
import { stands } from '../movement/standing.js';
import { furthestStop } from '../movement/train-motion.js';
import { isApproachLocked } from './approach-locked.js';
import { lockApproach } from './approach-locking.js';
import { setLimits } from './authority.js';
import { giveBackAhead } from './give-back.js';
import { showSignals } from './signals.js';

/**
 * A person takes a train's way back. Its signals go to stop at once; what lies within its stopping distance stays its
 * own. The rest frees at once if nobody approaches it, else when approach locking ends. The train is held, so that it
 * does not ask for the way again by itself.
 */
export function withdrawRoute(w: Writer, index: number): Refusal | null {
  const train = w.train(index);
  const { label } = w.world.stock.trains[index]!.file;
  const kept = lastBlockNeeded(w, index);
  if (kept >= train.path.length - 1 || isApproachLocked(w.state, index)) {
    return refusal('nothing-to-give-back', `${label} needs all that it holds to come to a stand.`);
  }
  train.held = true;
  const approaches = kept < train.authorised && !stands(w, index);
  if (kept < train.authorised) {
    train.authorised = kept;
    setLimits(w, index);
  }
  if (approaches) lockApproach(w, index);
  else giveBackAhead(w, index);
  showSignals(w, index);
  w.follow({ kind: 'control', train: index });
  return null;
}

/** The first block of the path in which the train certainly comes to a stand, as an index into the path. */
function lastBlockNeeded(w: Writer, index: number): number {
  const train = w.state.trains[index]!;
  const reach = furthestStop(w.world.models[index]!, train, w.now);
  const found = train.path.findIndex(
    ({ heading, end }) => heading >= 0 && end - w.world.foulingAhead[heading]! >= reach,
  );
  return found < 0 ? train.path.length - 1 : found;
}

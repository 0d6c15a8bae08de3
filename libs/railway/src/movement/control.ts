import { clearDeadline, hasDeadline, setDeadline } from '../session/deadlines.js';
import { mayRun } from '../session/phase.js';
import type { Writer } from '../session/writer.js';
import { instant, mmPerS, um } from '../units.js';
import { watchForEdge } from './overdue.js';
import { nextCommand } from './profile.js';
import { brake } from './halt.js';
import { limitsAhead } from './limits.js';
import { arrive } from '../timetable/progress.js';
import { awaitStanding } from './standing.js';
import { commandSpeed } from './train-motion.js';

/** A standing train does not start for less than this much way ahead, in mm. */
const LEAST_RUN = 30;

/** Tells a train the speed its authority allows now, and arranges when to look again. */
export function controlTrain(w: Writer, index: number): void {
  const train = w.train(index);
  const { kind } = train.activity;
  // What stops a train for a fault comes before whatever else the same step asks of it.
  if (!mayRun(w.state) || kind === 'halted' || kind === 'absent') return;
  const model = w.world.models[index]!;
  const { reckoning, mark, limit } = train;
  const { topSpeed } = w.world.stock.trains[index]!;
  const standing = train.activity.kind === 'standing';
  if (standing && mark * 1000 - reckoning.nominal.position < LEAST_RUN * 1000) {
    return rest(w, index);
  }
  if (train.handSpeed === 0) return standing ? undefined : brake(w, index);
  const way = {
    limits: limitsAhead(w, index),
    topSpeed: mmPerS(Math.min(topSpeed, train.handSpeed ?? topSpeed)),
    mark: um(mark * 1000),
    limit: um(limit * 1000),
  };
  const { target, nextAt } = nextCommand(model, reckoning, way, instant(w.now));
  if (standing && target === 0) return rest(w, index);
  train.activity = { kind: 'moving' };
  commandSpeed(w, index, target);
  awaitStanding(w, index);
  if (nextAt === null || target === 0) clearDeadline(w.state, 'profile', index);
  else setDeadline(w.state, 'profile', index, Math.max(nextAt, w.now + 1));
  watchForEdge(w, index);
}

/**
 * A train proven standing has come as far as its authority lets it: nothing can overrun the end of its way any more, unless
 * it is still to draw up.
 */
function rest(w: Writer, index: number): void {
  const { overlap, path, authorised } = w.state.trains[index]!;
  const drawsUp = hasDeadline(w.state, 'draw-up', index);
  if (overlap.length > 0 && authorised === path.length - 1 && !drawsUp) {
    w.follow({ kind: 'free-overlap', train: index });
  }
  arrive(w, index);
}

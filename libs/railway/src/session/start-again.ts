import { clearDeadline } from './deadlines.js';
import { cutAllPower, stopLayout } from './power.js';
import { dropPlan } from '../dispatching/follow-plan.js';
import { sectionLost } from '../occupancy/detection.js';
import type { Writer } from './writer.js';

const WHY = 'the server was started again during the session';

/**
 * The program was started again. The last inputs and commands before that may be missing, so nothing the state says of the
 * layout can be relied on: trains may have run on, turnouts may have been thrown. Power is cut, every section is
 * unknown, no drive is proven and no train certain; the normal line-up finds it all out again. If more was lost than usual,
 * a train may have turned round or stand foul of a turnout meanwhile, which no detector tells: a person looks at each.
 */
export function startAgain(w: Writer, tailLost: boolean): void {
  const { kind } = w.state.session.phase;
  if (kind === 'ended') return;
  forgetWayside(w);
  dropPlan(w);
  w.send({ kind: 'ask-state' });
  w.state.trains.forEach(({ activity }, index) => {
    if (activity.kind === 'absent') return;
    const train = w.train(index);
    train.adrift = true;
    train.mustSee ||= tailLost;
  });
  if (kind === 'set-up') {
    // Everything since power was raised may have been lost: trains may be running.
    stopLayout(w);
    w.log('The server was started again before power was raised, for all that was written down.');
  } else {
    cutAllPower(w, WHY);
    w.log(
      'What happened on the layout meanwhile is not known. Raise power when it is safe; every place is then compared with ' +
        'detection, and nothing moves before all are confirmed.',
    );
  }
}

/** Forgets what detectors, buses, boosters and drives have said. A drive that had failed stays failed, and its alarm stands. */
function forgetWayside(w: Writer): void {
  const { layout } = w.world;
  for (const { index } of layout.sections) sectionLost(w, index);
  for (const bus of Object.keys(w.state.buses)) w.state.buses[bus] = false;
  layout.districts.forEach((_, index) => {
    w.district(index).power = 'off';
  });
  layout.elements.forEach(({ drive }, index) => {
    const { proof } = w.state.elements[index]!;
    if (drive === null || proof === 'none' || proof === 'failed') return;
    w.element(index).proof = 'none';
    clearDeadline(w.state, 'drive', index);
  });
}

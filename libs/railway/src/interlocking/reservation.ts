import type { Route } from '../layout/layout.js';
import type { Writer } from '../session/writer.js';
import { extendAuthority } from './authority.js';
import { isCallOn } from './call-on.js';
import { pathEnd, routeItems } from './held-path.js';
import { lockOverlap } from './overlap.js';
import { setFlank } from './flank-protection.js';
import { setDrive } from './turnout-proof.js';

/**
 * Reserves a route for a train that {@link obstacleOn} found free: holds every element, claims every section,
 * puts drives into position. Authority follows only when all of them are proven.
 */
export function reserve(w: Writer, index: number, route: Route): void {
  const train = w.train(index);
  const items = routeItems(w.world.layout, route.index, pathEnd(train.path));
  const isCalledOn = isCallOn(w.world.layout, w.state, index, route.to);
  train.path.push(
    ...(isCalledOn ? items.map((it) => ({ ...it, calledOn: true as const })) : items),
  );
  for (const step of route.steps) {
    w.element(step.element).holder = index;
    for (const { section } of step.pieces) {
      if (section >= 0) w.section(section).claim = index;
    }
    if (step.leg.position !== null) setDrive(w, step.element, step.leg.position);
    for (const gap of step.gaps) {
      w.element(gap.element).holder = index;
      setDrive(w, gap.element, gap.polarity);
    }
  }
  setFlank(w, index, route);
  lockOverlap(w, index, route.to);
  w.state.counts.grants++;
  extendAuthority(w, index);
}

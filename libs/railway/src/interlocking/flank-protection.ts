import type { Route } from '../layout/layout.js';
import type { PathItem } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { noteClosed } from './for-work.js';
import { inPosition, setDrive } from './turnout-proof.js';

/**
 * Turns protecting turnouts away for a train's route, where they are free to turn, and locks them against being turned
 * back for another route's flank. The way of another train may still be set over one: that train then has
 * authority of its own there, and nothing else can come that way.
 */
export function setFlank(w: Writer, train: number, route: Route): void {
  for (const { by } of route.flank) {
    if (by.kind !== 'turnout' || !flankFree(w, by.element, by.position)) continue;
    const { flankFor, position, proof } = w.state.elements[by.element]!;
    if (!flankFor.includes(train)) w.element(by.element).flankFor.push(train);
    if (position !== by.position || proof !== 'moving') setDrive(w, by.element, by.position);
  }
}

/**
 * Whether every protecting turnout is proven away, or is one that cannot be turned now; those that have come free
 * since the route was reserved are turned first.
 */
export function flankProven(w: Writer, train: number, route: Route): boolean {
  const open = route.flank.filter(
    ({ by }) =>
      by.kind === 'turnout' &&
      flankFree(w, by.element, by.position) &&
      !inPosition(w, by.element, by.position),
  );
  if (open.length > 0) setFlank(w, train, route);
  return open.length === 0;
}

/** Unlocks what protected a turnout that the train has left. */
export function releaseFlank(w: Writer, train: number, item: PathItem): void {
  if (item.route < 0) return;
  for (const { turnout, by } of w.world.layout.routes[item.route]!.flank) {
    if (turnout !== item.element || by.kind !== 'turnout') continue;
    const { flankFor } = w.element(by.element);
    const at = flankFor.indexOf(train);
    if (at < 0) continue;
    flankFor.splice(at, 1);
    noteClosed(w, by.element);
  }
}

/** Whether a turnout can be turned to protect: nobody's way leads over it, its track is clear, no other flank needs it. */
function flankFree(w: Writer, turnout: number, position: string): boolean {
  const state = w.state.elements[turnout]!;
  return (
    state.holder < 0 &&
    state.overlapFor < 0 &&
    state.proof !== 'failed' &&
    state.possession === null &&
    (state.position === position || state.flankFor.length === 0) &&
    w.world.layout.elements[turnout]!.sections.every((section) => {
      const { belief, claim } = w.state.sections[section]!;
      return belief === 'clear' && claim < 0;
    })
  );
}

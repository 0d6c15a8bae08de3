import type { Heading, Step } from '../layout/layout.js';
import type { EngineState } from '../session/state.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { World } from '../session/world.js';
import type { Writer } from '../session/writer.js';
import { noteClosed } from './for-work.js';
import { inPosition, provenFor, setDrive } from './turnout-proof.js';

/**
 * Overlap: where the layout asks for it, a stretch beyond the end of a block that must be free, set and locked before a train
 * gets authority to stop there, in case it stops too late. It frees when the train is proven standing at its mark, or
 * becomes part of its way when that leads on. Several trains never share one; no way is set over another's overlap, and a
 * turnout that protects another train's way is not turned for one.
 */

/** What keeps the overlap beyond a heading from being locked for a train now, or null. */
export function overlapInTheWay(
  { layout }: World,
  state: EngineState,
  train: number,
  heading: Heading,
): WaitReason | null {
  for (const step of layout.overlaps[heading]!) {
    for (const [each, wanted] of settingsOf(step)) {
      const { holder, overlapFor, flankFor, position, possession, proof } = state.elements[each]!;
      const flank = position === wanted ? undefined : flankFor.find((other) => other !== train);
      const by = holder >= 0 ? holder : overlapFor >= 0 ? overlapFor : (flank ?? -1);
      if (by >= 0 && by !== train) return { kind: 'element-held', element: each, by };
      if (holder === train) return { kind: 'own-tail', element: each };
      if (possession !== null) return { kind: 'possession', element: each, name: possession };
      if (proof === 'failed') return { kind: 'turnout-failed', element: each };
    }
    for (const section of layout.elements[step.element]!.sections) {
      const { belief, claim } = state.sections[section]!;
      if (claim >= 0 && claim !== train) return { kind: 'section-claimed', section, by: claim };
      if (belief !== 'clear') return { kind: 'section-occupied', section, belief };
    }
  }
  return null;
}

/** Locks the overlap beyond the block in which a train's way ends, instead of the one before. */
export function lockOverlap(w: Writer, train: number, heading: Heading): void {
  freeOverlap(w, train);
  for (const step of w.world.layout.overlaps[heading]!) {
    for (const [element, position] of settingsOf(step)) {
      w.element(element).overlapFor = train;
      w.train(train).overlap.push(element);
      if (position !== null) setDrive(w, element, position);
    }
  }
}

/** Whether all of the overlap beyond a heading is locked for a train and every drive of it proven; so it is where none is asked for. */
function overlapProven(w: Writer, train: number, heading: Heading): boolean {
  return w.world.layout.overlaps[heading]!.every((step) =>
    settingsOf(step).every(
      ([element, position]) =>
        w.state.elements[element]!.overlapFor === train &&
        (position === null || inPosition(w, element, position)),
    ),
  );
}

/**
 * Whether a train's authority may end in the block at `at` of its path: the overlap beyond is locked and proven, or its own
 * way leads on and is proven as far as the overlap would reach.
 */
export function mayEndAt(w: Writer, train: number, at: number): boolean {
  const { path } = w.state.trains[train]!;
  const { heading } = path[at]!;
  if (at === path.length - 1) return overlapProven(w, train, heading);
  let left = w.world.layout.overlaps[heading]!.reduce((sum, { leg }) => sum + leg.length, 0);
  for (const item of path.slice(at + 1)) {
    if (left <= 0) break;
    if (!provenFor(w, item)) return false;
    left -= item.end - item.start;
  }
  return left <= 0;
}

/**
 * Whether a train would overrun the end of its authority into what nothing keeps free: an overlap is asked for, and it was
 * lost with a way given back, or a drive of it has failed. Then it comes to its mark at restricted speed. Common
 * practice, no source.
 */
export function lacksOverlap(w: Writer, train: number): boolean {
  const { path, authorised } = w.state.trains[train]!;
  const last = path[authorised];
  if (last === undefined || authorised < path.length - 1) return false;
  return !overlapProven(w, train, last.heading);
}

/** Frees the overlap of a train, if it has one locked. */
export function freeOverlap(w: Writer, train: number): void {
  if (w.state.trains[train]!.overlap.length === 0) return;
  for (const element of w.train(train).overlap.splice(0)) {
    w.element(element).overlapFor = -1;
    noteClosed(w, element);
  }
  w.state.dispatching.due = true;
}

/** What a step locks, each with the position it needs. */
const settingsOf = ({ element, leg, gaps }: Step): [element: number, position: string | null][] => [
  [element, leg.position],
  ...gaps.map((gap): [number, string] => [gap.element, gap.polarity]),
];

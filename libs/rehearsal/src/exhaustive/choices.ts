import { nextDeadline, type Command, type EngineState } from '@blockbell/railway';
import { disturbancesOf } from './disturbances.js';
import { personsNext, shortOfMark } from './person.js';
import type { Bounds, Disturbance } from './scenario.js';
import { nextOf } from './small-world/body.js';
import type { SmallState } from './small-world/small-state.js';
import type { SmallWorld } from './small-world/small-world.js';

/** A whole state: what the engine believes, what is true, and how many disturbances may still come. */
export interface Whole {
  readonly engine: EngineState;
  readonly truth: SmallState;
  disturbances: number;
}

/** What may happen next, and when. */
export type Happening =
  /** The engine is woken at its next deadline. */
  | { readonly kind: 'deadline' }
  /** A body crosses a cut, or heeds a command. */
  | { readonly kind: 'body'; readonly train: number }
  | { readonly kind: 'message'; readonly message: number }
  /** A drive arrives. */
  | { readonly kind: 'thrown'; readonly element: number }
  /** A lost contact comes back. */
  | { readonly kind: 'contact'; readonly dropout: number }
  /** The person at the layout does what the session needs of them: the first of these that is not refused. */
  | { readonly kind: 'person'; readonly commands: readonly Command[] }
  /** Nothing else would ever happen: a train that stands short of its stop mark is pushed up to it by hand. */
  | { readonly kind: 'pushed'; readonly train: number }
  | { readonly kind: 'disturbance'; readonly disturbance: Disturbance };

export interface Choice {
  readonly at: number;
  readonly happening: Happening;
}

interface Span {
  readonly from: number;
  readonly until: number;
  readonly happening: Happening;
}

/**
 * Everything that may happen next in a state, in a fixed order. What has a span may happen at its earliest moment, or at the
 * last one before something else can wait no longer; what has a moment happens then.
 */
export function choicesOf(small: SmallWorld, whole: Whole, bounds: Bounds): Choice[] {
  const { engine, truth } = whole;
  const { now } = truth;
  const spans = spansOf(small, whole);
  const last = Math.min(...spans.map(({ until }) => until));
  const choices: Choice[] = [];
  for (const { from, until, happening } of spans) {
    const earliest = Math.max(now, from);
    if (earliest > last) continue;
    choices.push({ at: earliest, happening });
    const late = bounds.moments === 'ends' && from < until;
    if (late && earliest < last) choices.push({ at: last, happening });
  }
  const commands = personsNext(small, engine, truth);
  if (spans.length + commands.length === 0) {
    for (const train of shortOfMark(small, truth)) {
      choices.push({ at: now, happening: { kind: 'pushed', train } });
    }
  }
  if (commands.length > 0) choices.push({ at: now, happening: { kind: 'person', commands } });
  if (whole.disturbances > 0) {
    for (const disturbance of disturbancesOf(small, engine, truth, bounds.kinds)) {
      choices.push({ at: now, happening: { kind: 'disturbance', disturbance } });
    }
  }
  return choices;
}

/** What is to come by itself, each with the span in which it may. */
export function spansOf(small: SmallWorld, { engine, truth }: Omit<Whole, 'disturbances'>): Span[] {
  const spans: Span[] = [];
  const exactly = (at: number | null, happening: Happening): void => {
    if (at !== null) spans.push({ from: at, until: Math.max(at, truth.now), happening });
  };
  exactly(nextDeadline(engine), { kind: 'deadline' });
  truth.bodies.forEach((body, train) => {
    if (body === null) return;
    exactly(nextOf(small.track, body, small.traits(train, body)), { kind: 'body', train });
  });
  const lanes = new Set<string>();
  truth.messages.forEach(({ from, until, lane }, message) => {
    if (lanes.has(lane)) return;
    lanes.add(lane);
    spans.push({ from, until, happening: { kind: 'message', message } });
  });
  truth.drives.forEach((drive, element) => {
    if (drive === null || drive.moving === null) return;
    spans.push({ ...drive.moving, happening: { kind: 'thrown', element } });
  });
  truth.dropouts.forEach(({ from, until }, dropout) => {
    spans.push({ from, until, happening: { kind: 'contact', dropout } });
  });
  return spans;
}

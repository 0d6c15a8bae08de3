import {
  headingOf,
  lineUpRows,
  openQuestions,
  strangeSections,
  type Command,
  type EngineState,
} from '@blockbell/railway';
import { standsOn } from './small-world/body.js';
import type { SmallState } from './small-world/small-state.js';
import type { SmallWorld } from './small-world/small-world.js';

/**
 * What the session needs of the person at the layout now, what they would try first coming first; empty: nothing, or something
 * is still on the move. They look, tell the truth, and answer when everything has come to rest: whatever an answer could
 * overtake comes first.
 */
export function personsNext(small: SmallWorld, engine: EngineState, truth: SmallState): Command[] {
  if (!isAtRest(truth)) return [];
  const { phase, begun } = engine.session;
  const powered = truth.powered.every((on) => on);
  switch (phase.kind) {
    case 'set-up':
    case 'powerless':
      return [{ kind: 'power-up' }];
    case 'stopped':
      return [{ kind: 'resume' }, { kind: 'power-up' }];
    case 'line-up':
      if (!powered) return [{ kind: 'power-up' }];
      if (!phase.settled) return [];
      if (openQuestions(small.world, engine) > 0) return answers(small, engine, truth);
      return [{ kind: begun ? 'resume' : 'start' }];
    case 'running':
      return [
        ...seeToHalted(small, engine, truth),
        ...clearStrange(small, engine, truth),
        ...undo(engine),
      ];
    default:
      return [];
  }
}

/** Trains whose heads stand in a block short of its stop mark. */
export function shortOfMark(small: SmallWorld, truth: SmallState): number[] {
  return truth.bodies.flatMap((body, train) => {
    const mark = body === null ? null : small.markAhead(body);
    return mark !== null && body!.head < mark ? [train] : [];
  });
}

const isAtRest = ({ bodies, messages, drives, dropouts }: SmallState): boolean =>
  messages.length === 0 &&
  dropouts.length === 0 &&
  drives.every((drive) => (drive?.moving ?? null) === null) &&
  bodies.every(
    (body) => body === null || (body.speed === 0 && body.target === 0 && body.orders.length === 0),
  );

/** The open rows of the line-up, answered by what stands there. */
function answers(small: SmallWorld, engine: EngineState, truth: SmallState): Command[] {
  const open = lineUpRows(small.world, engine).filter(
    ({ status }) => status !== 'confirmed' && status !== 'absent',
  );
  return [
    ...open.flatMap(({ train }) => sayWhere(small, engine, truth, train)),
    ...clearStrange(small, engine, truth),
  ];
}

/** Where a train stands: on the way held for it, the block in which that ends; else the block it stands in. */
function sayWhere(
  small: SmallWorld,
  engine: EngineState,
  truth: SmallState,
  train: number,
): Command[] {
  const body = truth.bodies[train]!;
  if (body === null) return [{ kind: 'confirm-absent', train }];
  const on = standsOn(body, small.traits(train, body));
  const { path } = engine.trains[train]!;
  const last = path.findLast(({ heading }) => heading >= 0);
  if (last !== undefined && on.every((it) => path.some(({ element }) => element === it.element))) {
    return [{ kind: 'confirm-place', train, heading: last.heading }];
  }
  const stretch = body.line.at(-1)!;
  const { kind, legs } = small.world.layout.elements[stretch.element]!;
  if (on.length > 1 || kind !== 'block') return [];
  const { from, to } = legs[stretch.leg]!;
  const towards = (stretch.along ? to : from) === 'b' ? 'b' : 'a';
  return [{ kind: 'confirm-place', train, heading: headingOf(stretch.element, towards) }];
}

/** Sections that nobody accounts for, found clear. */
function clearStrange(small: SmallWorld, engine: EngineState, truth: SmallState): Command[] {
  const occupied = small.occupied(truth);
  return strangeSections(engine)
    .filter((section) => !occupied[section])
    .map((section) => ({
      kind: 'confirm-clear',
      block: small.world.layout.sections[section]!.elements[0]!,
    }));
}

/** A train that was stopped may go on; where that is refused, it is said where it stands. */
function seeToHalted(small: SmallWorld, engine: EngineState, truth: SmallState): Command[] {
  return engine.trains.flatMap(({ activity }, train): Command[] =>
    activity.kind === 'halted'
      ? [{ kind: 'release-train', train }, ...sayWhere(small, engine, truth, train)]
      : [],
  );
}

/** What an operator had asked for without need is taken back. */
function undo({ trains, elements }: EngineState): Command[] {
  return [
    ...trains.flatMap(({ held }, train): Command[] =>
      held ? [{ kind: 'hold-train', train, hold: false }] : [],
    ),
    ...elements.flatMap(({ possession }, element): Command[] =>
      possession === null ? [] : [{ kind: 'reopen-track', element }],
    ),
  ];
}

import { stepOf, type Effect, type EngineState } from '@blockbell/railway';
import { headOnPath } from '../invariants/head-on-path.js';
import type { InvariantNumber } from '../invariants/violation.js';
import type { Whole } from './choices.js';
import { endOf, standsOn } from './small-world/body.js';
import { touchOf } from './small-world/contact.js';
import type { SmallWorld } from './small-world/small-world.js';

/** An invariant that does not hold in a state; what each means stands in `invariants/violation.ts`. */
export interface Broken {
  readonly invariant: InvariantNumber;
  readonly text: string;
}

/** What rounding of positions may add up to, mm. */
const ROUNDING = 1;

/**
 * All invariants of one state against the truth, and of the step that led to it. `limits`: by train, the limit that was locked
 * before the step. That no train is stuck for ever (5) is a property of the whole space: see `find-stuck.ts`.
 */
export function checkInvariants(
  small: SmallWorld,
  { engine, truth }: Whole,
  effects: readonly Effect[],
  limits: readonly number[],
): Broken[] {
  return [
    ...truth.mishaps,
    ...touchOf(small, truth).map((text): Broken => ({ invariant: 1, text })),
    ...drivesUnder(small, truth, effects),
    ...limitsPassed(small, engine, truth, limits),
    ...holdings(small, engine, truth),
    ...heldForNobody(small, engine),
    ...movesUnasked(small, engine, effects),
  ];
}

/** 2: no drive is commanded under a train, and no polarity while a train bridges its gaps. */
function drivesUnder(
  small: SmallWorld,
  truth: Whole['truth'],
  effects: readonly Effect[],
): Broken[] {
  const { layout } = small.world;
  return effects.flatMap((effect) => {
    if (effect.kind !== 'device' || effect.command.kind !== 'set-drive') return [];
    const { element } = effect.command;
    const zone = layout.elements[element]!.reversing;
    return truth.bodies.flatMap((body, train): Broken[] => {
      if (body === null) return [];
      const on = standsOn(body, small.traits(train, body)).map((it) => it.element);
      const inside = on.filter((it) => zone?.elements.includes(layout.elements[it]!.id) === true);
      const bridges = zone !== null && inside.length > 0 && inside.length < on.length;
      if (!bridges && !on.includes(element)) return [];
      return [
        {
          invariant: 2,
          text: `${name(small, element)} was commanded under ${label(small, train)}`,
        },
      ];
    });
  });
}

/** 3: no head is beyond the limit locked for it. */
function limitsPassed(
  small: SmallWorld,
  { trains }: EngineState,
  truth: Whole['truth'],
  limits: readonly number[],
): Broken[] {
  return trains.flatMap((train, index): Broken[] => {
    const body = truth.bodies[index];
    if (body === null || body === undefined || !train.confirmed) return [];
    const traits = small.traits(index, body);
    const head = headOnPath(small.world.layout, train, {
      front: endOf(body, traits, 'front'),
      rear: endOf(body, traits, 'rear'),
    });
    const limit = Math.max(limits[index]!, train.limit);
    if (head !== null && head <= limit + ROUNDING) return [];
    const where =
      head === null
        ? 'has left the way held for it'
        : `is ${Math.round(head - limit)} mm beyond its limit`;
    return [{ invariant: 3, text: `${label(small, index)} ${where}` }];
  });
}

/** 4: each element of a way is held for its train alone, and what a train stands on is held for it. */
function holdings(
  small: SmallWorld,
  { trains, elements }: EngineState,
  truth: Whole['truth'],
): Broken[] {
  const broken: Broken[] = [];
  trains.forEach(({ path, confirmed, overlap }, train) => {
    for (const { element } of path) {
      if (elements[element]!.holder === train) continue;
      broken.push({
        invariant: 4,
        text: `${name(small, element)} on the way of ${label(small, train)} is not held for it`,
      });
    }
    for (const element of overlap) {
      const { holder, overlapFor } = elements[element]!;
      if (overlapFor === train && (holder < 0 || holder === train)) continue;
      broken.push({
        invariant: 4,
        text: `${name(small, element)} in the overlap of ${label(small, train)} is not locked for it alone`,
      });
    }
    const body = truth.bodies[train];
    if (body === null || body === undefined || !confirmed) return;
    for (const { element, from, to } of standsOn(body, small.traits(train, body))) {
      if (elements[element]!.holder === train || to - from <= ROUNDING) continue;
      broken.push({
        invariant: 4,
        text: `${name(small, element)} is not held for ${label(small, train)}, which stands on it`,
      });
    }
  });
  return broken;
}

/** 6: what is held, locked as overlap or as flank protection is so for a train that is there and needs it. */
function heldForNobody(small: SmallWorld, { trains, elements }: EngineState): Broken[] {
  const { layout } = small.world;
  return elements.flatMap(({ holder, overlapFor, flankFor }, element): Broken[] => {
    const wrong = (train: number, how: string): Broken => ({
      invariant: 6,
      text: `${name(small, element)} is ${how} ${label(small, train)}, which does not need it`,
    });
    const found: Broken[] = [];
    const isOnWay = (train: number): boolean =>
      trains[train]!.path.some(
        (item) =>
          item.element === element ||
          stepOf(layout, item).gaps.some((gap) => gap.element === element),
      );
    if (holder >= 0 && !isOnWay(holder)) found.push(wrong(holder, 'held for'));
    if (overlapFor >= 0 && !trains[overlapFor]!.overlap.includes(element)) {
      found.push(wrong(overlapFor, 'locked as overlap for'));
    }
    for (const train of flankFor) {
      const needed = trains[train]!.path.some(
        (item) =>
          item.route >= 0 &&
          layout.routes[item.route]!.flank.some(
            ({ turnout, by }) =>
              turnout === item.element && by.kind === 'turnout' && by.element === element,
          ),
      );
      if (!needed) found.push(wrong(train, 'locked to protect'));
    }
    return found;
  });
}

/** 7: no train is told to run but in a running session, with power, from a confirmed place. */
function movesUnasked(
  small: SmallWorld,
  engine: EngineState,
  effects: readonly Effect[],
): Broken[] {
  const { kind } = engine.session.phase;
  const running = kind === 'running' || kind === 'paused' || kind === 'ending';
  const powered = engine.districts.every(({ power }) => power === 'on');
  return effects.flatMap((effect): Broken[] => {
    if (effect.kind !== 'device' || effect.command.kind !== 'set-speed') return [];
    const { step, address } = effect.command;
    if (step === 0) return [];
    const train = small.world.stock.trains.findIndex(({ locomotives }) =>
      locomotives.some(
        ({ file }) => file.address.kind === address.kind && file.address.number === address.number,
      ),
    );
    if (running && powered && engine.trains[train]!.confirmed) return [];
    return [
      {
        invariant: 7,
        text: `${label(small, train)} was told to run while the session was ${kind}`,
      },
    ];
  });
}

const name = ({ world }: SmallWorld, element: number): string => world.layout.elements[element]!.id;

const label = ({ world }: SmallWorld, train: number): string =>
  world.stock.trains[train]!.file.label;

import { compileWorld, createSession } from '@blockbell/railway';
import { checkInvariants, type Broken } from './check-invariants.js';
import { choicesOf, type Whole } from './choices.js';
import { findStuck } from './find-stuck.js';
import { happen } from './happen.js';
import type { Bounds, Scenario } from './scenario.js';
import type { Pace } from './small-world/body.js';
import { SmallWorld } from './small-world/small-world.js';
import { stateKey } from './state-key.js';
import { tellPath } from './tell-path.js';

/** What came of going through the states of one small railway. */
export interface Exploration {
  readonly scenario: string;
  /** One sentence on it. */
  readonly about: string;
  readonly bounds: Bounds;
  readonly states: number;
  readonly transitions: number;
  /** Transitions that led to a state known already. */
  readonly merged: number;
  /** States in which every train has done its work and stands. */
  readonly ends: number;
  /** Steps to the state furthest from the beginning. */
  readonly depth: number;
  /**
   * Of transitions to a known state, some are looked at closely, evenly spread: whether the state they really led to goes on to
   * the same states as the one it was taken for.
   */
  readonly compared: number;
  readonly alike: number;
  /** Whether every reachable state within the bounds was gone through. */
  readonly complete: boolean;
  readonly violation: CounterExample | null;
}

/** The shortest way to a state in which an invariant is broken. */
export interface CounterExample {
  readonly broken: readonly Broken[];
  /** One line each, from the beginning. */
  readonly path: readonly string[];
}

export interface ExploreProgress {
  readonly states: number;
  readonly transitions: number;
  readonly waiting: number;
}

/** How each state was come by: from which, by which of its choices, one after the other. */
export interface Origins {
  readonly from: number[];
  readonly choices: (readonly number[])[];
}

/** A state to go on from; `since`: choices made since its key was first come to, none of which changed it. */
interface Waiting {
  readonly id: number;
  readonly text: string;
  readonly since: readonly number[];
}

/** After how many states progress is told. */
const TELL = 500;
/** Of the transitions to a known state, every so many-th is looked at closely, at most so many. */
const SAMPLE_EVERY = 97;
const SAMPLES = 1000;
/** How often in a row a state is gone on from when what happened there changed nothing that counts, but only ms and mm. */
const UNCHANGED_AT_MOST = 50;

/**
 * Goes through every state that a small railway can come into within the bounds, breadth first, and checks all invariants in
 * each. The production engine makes every step. Whoever answers progress with true breaks it off.
 */
export function* explore(
  scenario: Scenario,
  bounds: Bounds,
): Generator<ExploreProgress, Exploration, boolean | undefined> {
  const small = new SmallWorld(compileWorld(scenario.layout, scenario.stock, scenario.timetable));
  const known = new Map<string, number>();
  const origins: Origins = { from: [], choices: [] };
  const next: number[][] = [];
  const depths: number[] = [];
  const ends = new Set<number>();
  const waiting: Waiting[] = [];
  let transitions = 0;
  let merged = 0;
  let violation: CounterExample | null = null;
  let broken = false;

  const samples: { readonly id: number; readonly text: string }[] = [];
  const successors = (text: string): string[] =>
    choicesOf(small, JSON.parse(text) as Whole, bounds).flatMap((choice) => {
      const after = JSON.parse(text) as Whole;
      return happen(small, after, choice) === null
        ? []
        : [stateKey(small, after, bounds.resolution)];
    });

  const add = (whole: Whole, from: number, choices: readonly number[]): number => {
    const key = stateKey(small, whole, bounds.resolution);
    const found = known.get(key);
    if (found !== undefined) return found;
    const id = known.size;
    known.set(key, id);
    origins.from.push(from);
    origins.choices.push(choices);
    depths.push(from < 0 ? 0 : depths[from]! + 1);
    next.push([]);
    waiting.push({ id, text: JSON.stringify(whole), since: [] });
    return id;
  };

  const starts = beginnings(small, bounds);
  starts.forEach((whole, index) => add(whole, -1, [index]));
  let read = 0;
  for (; read < waiting.length && violation === null && !broken; read++) {
    const { id, text, since } = waiting[read]!;
    waiting[read] = { id, text: '', since };
    if (known.size > bounds.states) break;
    const whole = JSON.parse(text) as Whole;
    if (isEnd(whole)) {
      ends.add(id);
      continue;
    }
    const choices = choicesOf(small, whole, bounds);
    for (const [index, choice] of choices.entries()) {
      const after = JSON.parse(text) as Whole;
      const limits = after.engine.trains.map(({ limit }) => limit);
      const outcome = happen(small, after, choice);
      if (outcome === null) continue;
      transitions++;
      const before = known.size;
      const made = [...since, index];
      const to = add(after, id, made);
      if (to === id && made.length <= UNCHANGED_AT_MOST) {
        waiting.push({ id, text: JSON.stringify(after), since: made });
      }
      if (known.size === before && ++merged % SAMPLE_EVERY === 0 && samples.length < SAMPLES) {
        samples.push({ id: to, text: JSON.stringify(after) });
      }
      next[id]!.push(to);
      const found = checkInvariants(small, after, outcome.effects, limits);
      if (found.length === 0) continue;
      violation = { broken: found, path: tellPath(small, starts, origins, bounds, id, made) };
      break;
    }
    if (read % TELL === 0) {
      broken = (yield { states: known.size, transitions, waiting: waiting.length - read }) === true;
    }
  }
  const alike = samples.filter(({ id, text }) => {
    const ids = successors(text).map((key) => known.get(key) ?? -1);
    return isEnd(JSON.parse(text) as Whole) || sameSet(ids, next[id]!);
  });
  const complete = violation === null && !broken && read === waiting.length;
  if (complete) {
    const stuck = findStuck(next, [...ends]);
    if (stuck !== null) {
      violation = {
        broken: [{ invariant: 5, text: 'from here on, no train can do its work to the end' }],
        path: tellPath(small, starts, origins, bounds, stuck, []),
      };
    }
  }
  return {
    scenario: scenario.name,
    about: scenario.about,
    bounds,
    states: known.size,
    transitions,
    merged,
    ends: ends.size,
    depth: depths.at(-1) ?? 0,
    compared: samples.length,
    alike: alike.length,
    complete,
    violation,
  };
}

const sameSet = (one: readonly number[], other: readonly number[]): boolean =>
  one.every((it) => other.includes(it)) && other.every((it) => one.includes(it));

/** Every combination of how the trains run, before power is raised. */
function beginnings(small: SmallWorld, { paces, disturbances }: Bounds): Whole[] {
  const trains = small.world.stock.trains.length;
  return combinations(paces, trains).map((each) => ({
    engine: createSession(small.world),
    truth: small.begin(each),
    disturbances,
  }));
}

function combinations(paces: Bounds['paces'], trains: number): Pace[][] {
  if (paces !== 'every')
    return [Array.from({ length: trains }, (_, at) => paces[at % paces.length]!)];
  let all: Pace[][] = [[]];
  for (let train = 0; train < trains; train++) {
    all = all.flatMap((each): Pace[][] => [
      [...each, 'long'],
      [...each, 'short'],
    ]);
  }
  return all;
}

/** Whether every train has done its work and stands, and nothing is on its way. */
function isEnd({ engine, truth }: Whole): boolean {
  return (
    engine.session.phase.kind === 'running' &&
    truth.messages.length === 0 &&
    truth.bodies.every((body) => body === null || (body.speed === 0 && body.orders.length === 0)) &&
    engine.trains.every(
      ({ activity, wait }) =>
        activity.kind === 'absent' || (activity.kind === 'standing' && wait?.kind === 'finished'),
    )
  );
}

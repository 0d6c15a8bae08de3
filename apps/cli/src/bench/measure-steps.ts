import { performance } from 'node:perf_hooks';
import {
  compileWorld,
  createSession,
  SEARCH_SLICE,
  step,
  type EngineState,
  type Input,
  type World,
} from '@blockbell/railway';
import { runSession, type RehearsalSetup } from '@blockbell/rehearsal';
import { Latencies, type LatencySummary } from './latencies.js';

/** A railway to measure on, and for how long. */
export interface Subject extends RehearsalSetup {
  readonly name: string;
  /** Physical minutes of its session that are run; null: to its end. */
  readonly minutes: number | null;
}

export interface StepFigures {
  readonly subject: string;
  readonly sections: number;
  readonly trains: number;
  /** Physical minutes of the session. */
  readonly minutes: number;
  /** Most node expansions of search in one step, and how many a step begins none beyond. */
  readonly search: { readonly most: number; readonly slice: number };
  /** Engine and simulation together, invariants checked: physical time by wall-clock time. */
  readonly rehearsalSpeed: number;
  /** One engine step, by the kind of its input; steps that decided a grant are listed once more by themselves. */
  readonly steps: readonly (LatencySummary & { readonly kind: string })[];
}

const KINDS = [
  'detector edge',
  'identity report',
  'other message',
  'deadline',
  'command',
  'grant decided',
] as const;
type Kind = (typeof KINDS)[number];

/** Rehearses a session, then feeds its inputs to fresh engines and measures every step. */
export function measureSteps(subject: Subject): StepFigures {
  const recorded: string[] = [];
  const began = performance.now();
  const simulated = rehearse(subject, (input) => recorded.push(JSON.stringify(input)));
  const elapsed = performance.now() - began;

  const world = compileWorld(subject.layout, subject.stock, subject.timetable);
  const inputs = recorded.map((text) => JSON.parse(text) as Input);
  measure(world, inputs);
  const { latencies, mostExpansions } = measure(world, inputs);
  return {
    subject: subject.name,
    sections: world.layout.sections.length,
    trains: world.stock.trains.length,
    minutes: simulated / 60_000,
    search: { most: mostExpansions, slice: SEARCH_SLICE },
    rehearsalSpeed: simulated / elapsed,
    steps: KINDS.flatMap((kind) => {
      const summary = latencies[kind].summary();
      return summary === null ? [] : [{ kind, ...summary }];
    }),
  };
}

/** Physical ms of the session that were run. */
function rehearse(subject: Subject, record: (input: Input) => void): number {
  const session = runSession(subject, (_, input) => record(input));
  const limit = (subject.minutes ?? Infinity) * 60_000;
  for (;;) {
    const next = session.next();
    if (next.done === true) return next.value.duration;
    if (next.value.now >= limit) return next.value.now;
  }
}

interface Measured {
  readonly latencies: Record<Kind, Latencies>;
  readonly mostExpansions: number;
}

function measure(world: World, inputs: readonly Input[]): Measured {
  const state = createSession(world);
  const latencies = Object.fromEntries(KINDS.map((kind) => [kind, new Latencies()])) as Record<
    Kind,
    Latencies
  >;
  let mostExpansions = 0;
  for (const input of inputs) {
    const decidedBefore = decided(state);
    const began = performance.now();
    const { expansions } = step(world, state, input);
    const microseconds = (performance.now() - began) * 1000;
    mostExpansions = Math.max(mostExpansions, expansions);
    latencies[kindOf(input)].add(microseconds);
    if (decided(state) > decidedBefore) latencies['grant decided'].add(microseconds);
  }
  return { latencies, mostExpansions };
}

const decided = ({ counts }: EngineState): number =>
  counts.grants + counts.refusedDoomed + counts.refusedExhausted;

function kindOf(input: Input): Kind {
  if (input.kind !== 'device') return input.kind;
  if (input.event.kind === 'section') return 'detector edge';
  return input.event.kind === 'report' ? 'identity report' : 'other message';
}

import { SEARCH_SLICE, type Input } from '@blockbell/railway';
import type { RehearsalSetup } from '@blockbell/rehearsal';
import { Latencies } from './latencies.js';
import { recordSession } from './play.js';
import { numberText, type Benchmark, type Figure } from './report.js';
import { demoSubject, largeSubject, MOST_TRAINS, SECTIONS } from './subjects.js';
import { replayTimed, type TimedStep } from './timed-engine.js';

const MINUTE = 60_000;
/** A step ends its search with the expansion that fills the slice; a look ahead counts as several and isn't cut. */
const SLICE_EXCESS = 1.1;

const KINDS = [
  'detector edge, occupied',
  'detector edge, free',
  'identity report',
  'other message',
  'clock tick',
  'command',
] as const;
type Kind = (typeof KINDS)[number];

export const stepLatency: Benchmark = {
  name: 'steps',
  measure({ quick, tell }) {
    tell('engine steps on the demo');
    const demo = measureSteps('demo', demoSubject(), quick ? 10 * MINUTE : Infinity);
    tell('engine steps on 2,040 sections');
    const large = measureSteps('large', largeSubject(), quick ? 2 * MINUTE : 10 * MINUTE);
    const edge: Figure = {
      what: `p99 of a detector edge at ${numberText(SECTIONS)} sections`,
      value: large.edgeP99,
      unit: 'ms',
      target: { most: 1 },
    };
    return {
      name: 'steps',
      title: 'Engine step latency',
      about:
        'Milliseconds of one engine step by kind of input. A session is rehearsed and its inputs are fed twice to a fresh ' +
        'engine, the first time to warm up; the second is measured, from the line-up on. A step that grants is counted by its ' +
        'input and again under “step with a grant”; so is one that searches. ' +
        `“Large”: a generated railway of ${numberText(SECTIONS)} sections with ${MOST_TRAINS} trains, of which ` +
        `${numberText(large.moving)} move at a time on average.`,
      columns: ['input', 'count', 'mean', 'p50', 'p99', 'max'],
      rows: [...demo.rows, ...large.rows],
      figures: [edge, ...demo.figures, ...large.figures],
    };
  },
};

interface StepFigures {
  readonly rows: readonly (readonly string[])[];
  readonly edgeP99: number;
  readonly moving: number;
  readonly figures: readonly Figure[];
}

function measureSteps(label: string, subject: RehearsalSetup, until: number): StepFigures {
  const { world, inputs, moving } = recordSession(subject, until);
  replayTimed(world, inputs, () => {});
  const steps = new StepTimes();
  replayTimed(world, inputs, (step) => steps.see(step));
  return {
    rows: steps.rows(label),
    edgeP99: steps.p99('detector edge, occupied'),
    moving,
    figures: [
      {
        what: `most search in one step, ${label}, where a slice is ${SEARCH_SLICE}`,
        value: steps.mostSearch,
        unit: 'expansions of search',
        target: { most: SEARCH_SLICE * SLICE_EXCESS },
      },
    ],
  };
}

class StepTimes {
  mostSearch = 0;
  readonly #byKind = new Map<string, Latencies>();

  see({ input, result, grants, elapsed }: TimedStep): void {
    this.#of(kindOf(input)).add(elapsed);
    if (grants > 0) this.#of('step with a grant').add(elapsed);
    if (result.expansions > 0) this.#of('step with search').add(elapsed);
    this.mostSearch = Math.max(this.mostSearch, result.expansions);
  }

  p99(kind: Kind): number {
    return this.#of(kind).summary().p99;
  }

  rows(label: string): string[][] {
    return [...KINDS, 'step with a grant', 'step with search'].map((kind) => {
      const { count, mean, p50, p99, max } = this.#of(kind).summary();
      return [`${label}: ${kind}`, ...[count, mean, p50, p99, max].map(numberText)];
    });
  }

  #of(kind: string): Latencies {
    const found = this.#byKind.get(kind) ?? new Latencies();
    this.#byKind.set(kind, found);
    return found;
  }
}

function kindOf(input: Input): Kind {
  if (input.kind === 'command') return 'command';
  if (input.kind === 'deadline') return 'clock tick';
  if (input.kind === 'started-again' || input.kind === 'plan') return 'other message';
  const { event } = input;
  if (event.kind === 'report') return 'identity report';
  if (event.kind !== 'section') return 'other message';
  return event.occupied ? 'detector edge, occupied' : 'detector edge, free';
}

import { Latencies } from './latencies.js';
import { recordSession } from './play.js';
import { numberText, type Benchmark } from './report.js';
import { sizedSubject } from './subjects.js';
import { replayTimed } from './timed-engine.js';

const MINUTE = 60_000;
/** Sections up to the most that are generated, and about as many trains as there is room for. */
const SIZES = [
  [60, 2],
  [500, 16],
  [2040, 60],
  [10_000, 60],
] as const;
/** What must hold at this size, and between these two. */
const MEASURED_AT = 2040;
const GROWN = [500, 2040] as const;

export const detectionGrowth: Benchmark = {
  name: 'growth',
  measure({ quick, tell }) {
    const bySize = new Map(
      SIZES.map(([sections, trains]) => {
        tell(`detector edges on ${numberText(sections)} sections`);
        return [sections as number, edgesOf(sections, trains, (quick ? 2 : 10) * MINUTE)];
      }),
    );
    const p50 = (sections: number): number => bySize.get(sections)!.summary().p50;
    return {
      name: 'growth',
      title: 'Cost of a detection event against the size of the layout',
      about:
        'Milliseconds of the engine step that takes a detector edge, occupied or free, with all rules on. Generated railways with two fifths ' +
        'of single line or more on which all trains want to run, 10 minutes each; their inputs are fed twice to a fresh engine, the second time ' +
        'is measured, from the start of the session on.',
      columns: ['sections', 'trains', 'edges', 'mean', 'p50', 'p99', 'p99.9', 'max'],
      rows: SIZES.map(([sections, trains]) => {
        const { count, mean, p50, p99, p999, max } = bySize.get(sections)!.summary();
        return [
          numberText(sections),
          ...[trains, count, mean, p50, p99, p999, max].map(numberText),
        ];
      }),
      figures: [
        {
          what: `p99 of a detector edge at ${numberText(MEASURED_AT)} sections`,
          value: bySize.get(MEASURED_AT)!.summary().p99,
          unit: 'ms',
          target: { most: 1 },
        },
        {
          what: `p50 at ${numberText(GROWN[1])} sections by that at ${numberText(GROWN[0])}`,
          value: p50(GROWN[1]) / p50(GROWN[0]),
          unit: 'times',
          target: { most: 2 },
        },
      ],
    };
  },
};

function edgesOf(sections: number, trains: number, until: number): Latencies {
  const { world, inputs } = recordSession(sizedSubject(sections, trains), until);
  replayTimed(world, inputs, () => {});
  const edges = new Latencies();
  replayTimed(world, inputs, ({ input, state, elapsed }) => {
    const isEdge = input.kind === 'device' && input.event.kind === 'section';
    if (isEdge && state.session.begun) edges.add(elapsed);
  });
  return edges;
}

import type {
  ArrivalRule,
  DepartureOrder,
  Fallback,
  RequestRule,
  TrackCondition,
  TrackOrder,
  TrainCondition,
  YardRulesFile,
} from '@blockbell/railway';
import fc from 'fast-check';

/** Names that may stand in rules; some that are not there are drawn as well. */
export interface RuleVocabulary {
  readonly yards: readonly string[];
  readonly tracks: readonly string[];
  readonly trains: readonly string[];
  /** Yards that may be named as an overflow; none: that is never drawn. */
  readonly others?: readonly string[];
}

/** Mostly the first, now and then the second, which is to be refused. */
const mostly = (
  sound: fc.Arbitrary<unknown>,
  faulty: fc.Arbitrary<unknown>,
): fc.Arbitrary<unknown> => fc.oneof({ weight: 60, arbitrary: sound }, faulty);

const classes = mostly(
  fc.uniqueArray(fc.constantFrom('express', 'passenger', 'freight', 'works'), {
    minLength: 1,
    maxLength: 3,
  }),
  fc.constant([]),
);
const minutes = mostly(fc.integer({ min: 1, max: 240 }), fc.constantFrom(0, 1441));
const lengths = mostly(fc.integer({ min: 1, max: 4000 }), fc.constant(0));
const spans = mostly(
  fc.constantFrom(['06:00', '07:30'], ['07:00', '09:59'], ['08:15', '24:10']),
  fc.constantFrom(['7:5', 'noon'], ['09:00', '08:00']),
) as fc.Arbitrary<[string, string]>;

function trainConditions({ trains }: RuleVocabulary): fc.Arbitrary<unknown> {
  const plain = fc.oneof(
    fc.record({ is: fc.constant('class'), of: classes }),
    fc.record({ is: fc.constant('train'), of: names(trains) }),
    fc.record({
      is: fc.constantFrom('longer', 'shorter'),
      than: lengths,
    }),
    fc.record({ is: fc.constant('leaving'), within: minutes }),
    fc.record({ is: fc.constantFrom('staying', 'turning') }),
    spans.map(([from, until]) => ({ is: 'between', from, until })),
  );
  return grouped(plain);
}

function trackConditions({ tracks }: RuleVocabulary): fc.Arbitrary<unknown> {
  const plain = fc.oneof(
    fc.record({ is: fc.constant('track'), of: names(tracks) }),
    fc.record({ is: fc.constantFrom('empty', 'burying-nobody', 'not-buried', 'same-class') }),
    fc.record({
      is: fc.constantFrom('longer', 'shorter'),
      than: lengths,
    }),
    fc.record({
      is: fc.constant('keeping-free'),
      tracks: mostly(fc.integer({ min: 1, max: 5 }), fc.constantFrom(0, 99)),
    }),
  );
  return grouped(plain);
}

/** Conditions by themselves and in groups, some of them too deep or empty. */
function grouped(plain: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> {
  return fc.letrec((tie) => ({
    any: fc.oneof(
      { maxDepth: 3, withCrossShrink: true },
      plain,
      fc.record({
        is: fc.constantFrom('all', 'any'),
        of: mostly(fc.array(tie('any'), { minLength: 1, maxLength: 3 }), fc.constant([])),
      }),
      fc.record({ is: fc.constant('not'), of: tie('any') }),
    ),
  })).any;
}

const names = (known: readonly string[]): fc.Arbitrary<unknown> =>
  mostly(
    fc.uniqueArray(fc.constantFrom(...known), { minLength: 1, maxLength: 4 }),
    fc.constantFrom([], ['nobody']),
  );

const random = fc.record({
  by: fc.constant('random'),
  seed: mostly(fc.integer({ min: 0, max: 99 }), fc.constant(-1)),
});

const trackOrders = orders(
  fc.oneof(
    fc.record({
      by: fc.constantFrom(
        'least-spare',
        'most-spare',
        'fewest-buried',
        'call',
        'list',
        'fullest',
        'emptiest',
        'rotation',
      ),
    }),
    random,
  ),
) as fc.Arbitrary<TrackOrder[]>;

const departureOrders = orders(
  fc.oneof(
    fc.record({ by: fc.constantFrom('timetable', 'longest-waiting', 'rotation', 'priority') }),
    fc.record({ by: fc.constant('class'), of: classes }),
    random,
  ),
) as fc.Arbitrary<DepartureOrder[]>;

/** Orders one after the other; now and then the same twice. */
function orders<T extends { by: string }>(order: fc.Arbitrary<T>): fc.Arbitrary<unknown> {
  return mostly(
    fc.uniqueArray(order, { maxLength: 3, selector: ({ by }) => by }),
    fc.array(order, { minLength: 2, maxLength: 3 }),
  );
}

/** Any rules of a yard that the schema's shapes allow, those that can't be run among them. */
export function anyYardRules(vocabulary: RuleVocabulary): fc.Arbitrary<YardRulesFile> {
  const when = trainConditions(vocabulary) as fc.Arbitrary<TrainCondition>;
  const only = trackConditions(vocabulary) as fc.Arbitrary<TrackCondition>;
  const arrival = fc.record(
    { when, only, order: trackOrders },
    { requiredKeys: ['order'] },
  ) as fc.Arbitrary<ArrivalRule>;
  const { others = [] } = vocabulary;
  const overflow = (): fc.Arbitrary<unknown> =>
    fc.record({
      do: fc.constant('overflow'),
      to: mostly(fc.constantFrom(...others), fc.constant('nowhere')),
    });
  const fallback = fc.oneof(
    ...(others.length === 0 ? [] : [overflow()]),
    fc.record({ do: fc.constant('hold'), minutes }),
    fc.record(
      { do: fc.constant('take'), only, order: trackOrders },
      { requiredKeys: ['do', 'order'] },
    ),
    fc.record({ do: fc.constant('ask') }),
  ) as fc.Arbitrary<Fallback>;
  const request = fc.record(
    { when, fewerThan: mostly(fc.integer({ min: 1, max: 4 }), fc.constant(0)), minutes },
    { requiredKeys: ['fewerThan', 'minutes'] },
  ) as fc.Arbitrary<RequestRule>;
  return fc.record({
    yard: fc.constantFrom(...vocabulary.yards),
    arrivals: fc.array(arrival, { maxLength: 4 }),
    nothingFits: fc.array(fallback, { maxLength: 3 }),
    departures: fc.record({
      order: departureOrders,
      requests: fc.array(request, { maxLength: 2 }),
    }),
    moveUp: fc.constantFrom('on-arrival', 'whenever-free', 'never'),
  }) as unknown as fc.Arbitrary<YardRulesFile>;
}

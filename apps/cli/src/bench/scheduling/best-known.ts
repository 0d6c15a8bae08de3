/** What is known of a published problem, and what has to be reached. */
export interface Target {
  readonly bestKnown: number;
  /** How much more than the best known a plan may cost, as a share of it. */
  readonly allowed: number;
  /** Within how many ms the first plan has to be there, in a thread that is warm. */
  readonly firstPlan?: number;
}

const exactly = (values: Readonly<Record<string, number>>): [string, Target][] =>
  Object.entries(values).map(([name, bestKnown]) => [name, { bestKnown, allowed: 0 }]);

/**
 * By file name below the folder of published problems: the values proven for the fixed-route set, the optimal
 * makespans of the blocking job shops without swaps, and the best values known for the trains with routes to choose.
 */
export const TARGETS: ReadonlyMap<string, Target> = new Map<string, Target>([
  ...exactly({
    'fixed-route/origB2.json': 347,
    'fixed-route/origB9.json': 5967,
    'fixed-route/origA4.json': 2706,
    'fixed-route/origA9.json': 6178,
    'fixed-route/trackB1.json': 1507,
    'fixed-route/stationB1.json': 4246,
    'fixed-route/origB7.json': 65828,
    'fixed-route/trackA2.json': 6859,
    'blocking-jobshop/ft06.txt': 69,
    'blocking-jobshop/la01.txt': 881,
    'blocking-jobshop/la02.txt': 900,
    'blocking-jobshop/la03.txt': 808,
    'blocking-jobshop/la04.txt': 859,
    'blocking-jobshop/la05.txt': 732,
  }),
  ['blocking-jobshop/ft10.txt', { bestKnown: 1158, allowed: 0.03 }],
  ['blocking-jobshop/la16.txt', { bestKnown: 1148, allowed: 0.03 }],
  ...exactly({
    'displib/smi_close_4.json': 24225,
    'displib/smi_headway_4.json': 24797,
    'displib/nor1_critical_4.json': 1506,
    'displib/swi_1.json': 0,
    'displib/nor1_critical_5.json': 2677,
    'displib/nor1_critical_1.json': 2416,
    'displib/nor1_critical_0.json': 4133,
  }),
  ['displib/nor3_1.json', { bestKnown: 3667, allowed: 0.05, firstPlan: 200 }],
]);

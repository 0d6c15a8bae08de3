import { parseClockText } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import { Chance } from './chance.js';
import { FIRST_FAULTS, type Draw, type FirstFault } from './first-faults.js';
import { IDENTITY_FAULTS, type IdentityFault } from './identity-faults.js';
import { exampleRailway, smallRailway, type Railway } from './railways.js';

/** One session with a fault at a random place and time. */
export interface FaultCase {
  readonly railway: Railway;
  readonly seed: number;
  readonly faults: readonly Fault[];
}

const ON_THE_DEMO = 10;
const ON_THE_PASSING_LOOP = 10;
const ON_GENERATED_RAILWAYS = 30;

/** A case under a name that tells its railway, seed and fault, for whoever wants to run it again. */
export type NamedCase = readonly [name: string, faultCase: FaultCase];

/** Fifty sessions with the fault, always the same ones. */
export function faultCases(kind: FirstFault): NamedCase[] {
  const demo = exampleRailway('demo');
  const loop = exampleRailway('passing-loop');
  return [
    ...many(ON_THE_DEMO, 1, (seed) => drawCase(FIRST_FAULTS[kind], 'demo', demo, seed)),
    ...many(ON_THE_PASSING_LOOP, 101, (seed) =>
      drawCase(FIRST_FAULTS[kind], 'passing loop', loop, seed),
    ),
    ...many(ON_GENERATED_RAILWAYS, 201, (seed) =>
      drawCase(FIRST_FAULTS[kind], 'generated', smallRailway(new Chance(seed)), seed),
    ),
  ];
}

/** Twenty-four sessions in which what is believed of who stands where is put to the test. */
export function identityCases(kind: IdentityFault): NamedCase[] {
  const demo = exampleRailway('demo');
  const loop = exampleRailway('passing-loop');
  const draw = IDENTITY_FAULTS[kind];
  return [
    ...many(4, 1, (seed) => drawCase(draw, 'demo', demo, seed)),
    ...many(8, 101, (seed) => drawCase(draw, 'passing loop', loop, seed)),
    ...many(12, 201, (seed) => drawCase(draw, 'generated', smallRailway(new Chance(seed)), seed)),
  ];
}

const many = <T>(count: number, from: number, make: (seed: number) => T): T[] =>
  Array.from({ length: count }, (_, index) => make(from + index));

function drawCase(draw: Draw, where: string, railway: Railway, seed: number): NamedCase {
  const chance = new Chance(seed);
  const faults = draw(railway, chance.below(bookedLength(railway)), chance);
  const last = faults.at(-1);
  return [`${where}, seed ${seed}: ${JSON.stringify(last)}`, { railway, seed, faults }];
}

/** Physical ms from the beginning of the session to the last booked arrival. */
export function bookedLength({ timetable: { clock, services } }: Railway): number {
  const arrivals = services.flatMap(({ calls }) => calls.map(({ arrive }) => fastTime(arrive)));
  return Math.floor((Math.max(...arrivals) - fastTime(clock.start)) / clock.ratio);
}

const fastTime = (text: string | undefined): number => parseClockText(text ?? '') ?? 0;

import { USUAL_CHOICES } from '@blockbell/planning';
import {
  compileWorld,
  createSession,
  step,
  type Effect,
  type Input,
  type StationId,
} from '@blockbell/railway';
import {
  InvariantChecker,
  isWorkDone,
  longestSession,
  passSeconds,
  Rehearsal,
} from '@blockbell/rehearsal';
import { expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway, smallRailway, type Railway } from '../support/railways.js';

interface Run {
  readonly rehearsal: Rehearsal;
  readonly broken: InvariantChecker['broken'];
  /** Names of the services that were taken. */
  readonly taken: readonly string[];
  readonly inputs: readonly Input[];
  readonly effects: readonly Effect[];
}

/** A session in which services are added now and then, and whose program is killed and started again after some of them. */
function run(railway: Railway, seed: number, isPlanned: boolean): Run {
  const chance = new Chance(seed);
  const restarts = [250_000, 420_000].map((at) => ({ at: at + chance.below(20_000), lost: 0 }));
  const planning = isPlanned ? { planning: USUAL_CHOICES } : {};
  const rehearsal = new Rehearsal({ ...railway, seed, restarts, ...planning });
  const checker = new InvariantChecker(rehearsal);
  const inputs: Input[] = [];
  const effects: Effect[] = [];
  rehearsal.observe((_, input, result) => {
    inputs.push(structuredClone(input));
    effects.push(...result.effects);
  });
  const { stations } = rehearsal.world.layout;
  const trains = rehearsal.world.stock.trains.length;
  const taken: string[] = [];
  for (const _ of passSeconds(rehearsal, longestSession(rehearsal.world.timetable))) {
    const second = rehearsal.now / 1000;
    if (second >= 100 && second % 60 === 0 && second <= 640) {
      const name = `Extra ${second}`;
      const station = stations[chance.below(stations.length)]!.file.id as StationId;
      const train = chance.below(trains);
      const service = { name, calls: [{ station }] };
      const refused = rehearsal.command('dispatcher', {
        kind: 'add-service',
        train,
        service,
        before: null,
      });
      if (refused === null) taken.push(name);
    }
    if (second > 660 && isWorkDone(rehearsal.state)) break;
  }
  return { rehearsal, broken: checker.broken, taken, inputs, effects };
}

/** Names of the services whose last call was come to. */
function made({ rehearsal: { state, world } }: Run): string[] {
  return state.trains.flatMap(({ calls }) =>
    calls.flatMap(({ service, call, arrived }) => {
      const { file, calls: booked } = world.timetable.services[service]!;
      return arrived !== null && call === booked.length - 1 ? [file.name] : [];
    }),
  );
}

it.each([
  ['passing loop', exampleRailway('passing-loop'), 1, false],
  ['passing loop', exampleRailway('passing-loop'), 2, true],
  ['generated', smallRailway(new Chance(7)), 3, true],
] as const)(
  'services that are added are run after restarts, and their session replays to the same bytes: %s',
  (_, railway, seed, isPlanned) => {
    const course = run(railway, seed, isPlanned);
    expect(course.broken).toEqual([]);
    expect(course.taken.length).toBeGreaterThan(0);
    expect(made(course)).toEqual(expect.arrayContaining([...course.taken]));

    const world = compileWorld(railway.layout, railway.stock, railway.timetable);
    const state = createSession(world);
    const again = course.inputs.flatMap((input) => step(world, state, input).effects);
    expect(JSON.stringify(again)).toBe(JSON.stringify(course.effects));
    expect(state.added).toEqual(course.rehearsal.state.added);
  },
  SESSION_TIMEOUT,
);

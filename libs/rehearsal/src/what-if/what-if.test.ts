import { USUAL_CHOICES } from '@blockbell/planning';
import { exampleFiles, type ExampleName } from '@blockbell/examples';
import {
  fastNow,
  saveWorkings,
  step,
  useWork,
  type Command,
  type LayoutFile,
  type StationId,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { Rehearsal } from '../rehearsal.js';
import { ScriptedDispatcher } from '../scripted-dispatcher.js';
import { arrivalsOf } from './arrivals.js';
import { askWhatIf, foretell, type PresentSession } from './what-if.js';

const HALF_HOUR = 30 * 60_000;
const MINUTE = 60_000;

/** Files of an example whose locomotives run exactly as measured, or with the spread that the stock states. */
function filesOf(name: ExampleName, isExact: boolean) {
  const text = exampleFiles(name);
  const layout = JSON.parse(text.layout) as LayoutFile;
  const timetable = JSON.parse(text.timetable) as TimetableFile;
  const given = JSON.parse(text.stock) as StockFile;
  const locomotives = given.locomotives.map((it) => ({ ...it, spread: { speed: 0, braking: 0 } }));
  return { layout, timetable, stock: isExact ? { ...given, locomotives } : given };
}

interface Running {
  readonly files: ReturnType<typeof filesOf>;
  readonly rehearsal: Rehearsal;
  readonly dispatcher: Pick<ScriptedDispatcher, 'look'>;
  readonly planning: object;
}

interface Choice {
  readonly name: ExampleName;
  readonly seed: number;
  /** Physical ms. */
  readonly at: number;
  readonly isExact?: boolean;
  readonly isPlanned?: boolean;
}

/** An undisturbed session at a moment. */
function running({ name, seed, at, isExact = true, isPlanned = false }: Choice): Running {
  const files = filesOf(name, isExact);
  const planning = isPlanned ? { planning: USUAL_CHOICES } : {};
  const rehearsal = new Rehearsal({ ...files, seed, ...planning });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const session = { files, rehearsal, dispatcher, planning };
  runTo(session, at);
  return session;
}

function runTo({ rehearsal, dispatcher }: Running, at: number): void {
  while (rehearsal.now < at) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
  }
}

const presentOf = ({ rehearsal: { state, world } }: Running): PresentSession =>
  structuredClone({ state, workings: saveWorkings(world) });

const questionOf = ({ files, planning }: Running, command: Command) => ({
  ...files,
  ...planning,
  command,
  horizon: HALF_HOUR,
});

/** How far foretold arrivals were from what came, fast ms; and arrivals that only one of the two had. */
function errorsOf(session: Running, command: Command): { off: number[]; odd: string[] } {
  const courses = foretell(questionOf(session, command), () => presentOf(session))!;
  expect(courses.refusal).toBeNull();
  const { rehearsal } = session;
  expect(rehearsal.command('dispatcher', command)).toBeNull();
  while (fastNow(rehearsal.state.session.clock, rehearsal.now) < courses.until)
    runTo(session, rehearsal.now + 1000);
  const foretold = arrivalsOf(courses.after.state);
  const came = arrivalsOf(rehearsal.state);
  const keys = new Set([...foretold.keys(), ...came.keys()]);
  const off: number[] = [];
  const odd: string[] = [];
  for (const key of keys) {
    const [one, other] = [foretold.get(key)?.at, came.get(key)?.at];
    if (one !== undefined && other !== undefined) off.push(Math.abs(one - other));
    // One that came about the end of what was looked at may just be missing in the other.
    else if (courses.until - (one ?? other)! > MINUTE) odd.push(key);
  }
  return { off, odd };
}

/** A train on its way, and a block that one will come to. */
const movingTrain = ({ rehearsal: { state } }: Running): number =>
  state.trains.findIndex(({ activity }) => activity.kind === 'moving');

const hold = (session: Running): Command => ({
  kind: 'hold-train',
  train: movingTrain(session),
  hold: true,
});

function closeBlock({ rehearsal: { world, state } }: Running): Command {
  const element = world.layout.elements.find(
    ({ kind, index }) =>
      kind === 'block' &&
      state.elements[index]!.holder < 0 &&
      state.trains.some(({ node }, train) =>
        world.graphs[train]!.moves(node).some(({ needs }) => needs.includes(index)),
      ),
  )!.index;
  return { kind: 'close-track', element, reason: 'rail joint' };
}

/** Nearly every arrival to two seconds of real time, twelve of the fast clock, and each to its minute. */
function expectTrue({ off, odd }: ReturnType<typeof errorsOf>): void {
  expect(odd).toEqual([]);
  expect(off.length).toBeGreaterThan(3);
  expect(Math.max(...off)).toBeLessThan(MINUTE);
  expect(off.filter((it) => it <= 12_000).length).toBeGreaterThanOrEqual(off.length * 0.9);
}

/** The first of these commands that the engine would take. */
function firstAccepted(session: Running, commands: readonly Command[]): Command {
  const { world, state, now } = session.rehearsal;
  const found = commands.find((command) => {
    const input = { at: now, kind: 'command', by: 'somebody', command } as const;
    const { effects } = step(world, structuredClone(state), input);
    useWork(world, state.added);
    return effects.some((effect) => effect.kind === 'answer' && effect.refusal === null);
  });
  if (found === undefined) throw new Error('none of these commands is taken now');
  return found;
}

/** The track a train likes least, at its next call. */
function chooseTrack(session: Running): Command {
  const { world, state } = session.rehearsal;
  return firstAccepted(
    session,
    state.trains.flatMap(({ node }, train): Command[] => {
      const graph = world.graphs[train]!;
      const stop = graph.stops[graph.placeOf(node).leg + 1];
      const [ref] = stop?.calls ?? [];
      const tracks = stop?.tracks.toReversed() ?? [];
      return ref === undefined
        ? []
        : tracks.map(({ name }) => ({ kind: 'choose-track', train, ...ref, track: name }));
    }),
  );
}

function goFirst(session: Running): Command {
  const trains = session.rehearsal.state.trains.map((_, train) => train);
  return firstAccepted(
    session,
    trains
      .toReversed()
      .flatMap((train) =>
        trains.map((before): Command => ({ kind: 'go-first', train, before, first: true })),
      ),
  );
}

function cancel(session: Running): Command {
  const { workings } = session.rehearsal.world.timetable;
  return firstAccepted(
    session,
    workings.flatMap((working, train) =>
      (working?.services ?? []).flatMap((service, at) =>
        working!.services
          .slice(at)
          .map((through): Command => ({ kind: 'cancel-services', train, service, through })),
      ),
    ),
  );
}

/** The first train that can, goes to the first place that it can go to, when its work is done. */
function add(session: Running): Command {
  const { layout, stock } = session.rehearsal.world;
  return firstAccepted(
    session,
    stock.trains.toReversed().flatMap((_, train) =>
      layout.stations.map(({ file: { id: station } }): Command => ({
        kind: 'add-service',
        train,
        service: { name: 'Extra', calls: [{ station: station as StationId }] },
        before: null,
      })),
    ),
  );
}

describe('what is foretold of a command is what then happens', () => {
  const LEVERS = {
    'a train held': hold,
    'a block closed': closeBlock,
    'a track chosen': chooseTrack,
    'another train first': goFirst,
    'services cancelled': cancel,
    'a service added': add,
  };

  describe.each(Object.entries(LEVERS))('%s', (_, lever) => {
    it.each([
      { name: 'passing-loop', seed: 1, at: 150_000 },
      { name: 'demo', seed: 2, at: 300_000 },
    ] as const)('on $name, seed $seed, at $at', (choice) => {
      const session = running(choice);
      expectTrue(errorsOf(session, lever(session)));
    });
  });

  it('at another moment with another seed', () => {
    const session = running({ name: 'demo', seed: 3, at: 620_000 });
    expectTrue(errorsOf(session, goFirst(session)));
  });

  it.each([hold, goFirst])('with plans made meanwhile, too', (lever) => {
    const session = running({ name: 'passing-loop', seed: 2, at: 150_000, isPlanned: true });
    expectTrue(errorsOf(session, lever(session)));
  });

  it('to a minute where locomotives run within their spread of what was measured', () => {
    const session = running({ name: 'demo', seed: 5, at: 300_000, isExact: false });
    const { off, odd } = errorsOf(session, hold(session));
    expect(odd).toEqual([]);
    expect(Math.max(...off)).toBeLessThan(MINUTE);
  });
});

describe('a train that was stopped on its way goes first, and nobody sees to it', () => {
  it('changes what is foretold, and that is what then happens', () => {
    const session: Running = {
      ...running({ name: 'demo', seed: 4, at: 450_000 }),
      dispatcher: { look: () => undefined },
    };
    const { rehearsal } = session;
    const train = movingTrain(session);
    rehearsal.simulated.injectFault({
      kind: 'stall',
      at: rehearsal.now,
      duration: HALF_HOUR,
      train,
    });
    while (rehearsal.state.trains[train]!.activity.kind !== 'halted')
      runTo(session, rehearsal.now + 1000);
    const command = firstAccepted(
      session,
      rehearsal.state.trains.map((_, before): Command => ({
        kind: 'go-first',
        train,
        before,
        first: true,
      })),
    );
    const answer = askWhatIf(questionOf(session, command), () => presentOf(session))!;
    expect(answer.changes.length).toBeGreaterThan(0);
    expectTrue(errorsOf(session, command));
    expect(rehearsal.state.dispatching.wishes.firsts).toMatchObject([{ first: train }]);
  });
});

describe('the answer', () => {
  const session = running({ name: 'demo', seed: 2, at: 620_000 });
  const ask = (command: Command) =>
    askWhatIf(questionOf(session, command), () => presentOf(session))!;

  it('tells whose arrivals change, and that a train held comes nowhere', () => {
    const command = hold(session);
    const answer = ask(command);
    const { train } = command as { train: number };
    expect(answer.refusal).toBeNull();
    expect(answer.changes.some((it) => it.train === train && it.after === null)).toBe(true);
    expect(answer.lateness.after.weighted).toBeGreaterThan(answer.lateness.before.weighted);
    const stands = answer.standing.find((it) => it.train === train)!;
    expect(stands.why).toContain('the dispatcher holds it');
    expect(stands.anyway).toBe(false);
  });

  it('tells of the arrivals of a service that is only run with it', () => {
    const idle = running({ name: 'passing-loop', seed: 1, at: 150_000 });
    const { changes, refusal } = askWhatIf(questionOf(idle, add(idle)), () => presentOf(idle))!;
    expect(refusal).toBeNull();
    const extra = changes.filter(({ added }) => added);
    expect(extra.every((it) => it.before === null)).toBe(true);
    expect(extra.map(({ station }) => station)).not.toContain(-1);
    expect(idle.rehearsal.state.added.services).toEqual([]);
  });

  it('changes nothing in the session', () => {
    const before = JSON.stringify(presentOf(session));
    ask(hold(session));
    expect(JSON.stringify(presentOf(session))).toBe(before);
  });

  it('says why a command would be refused, and foresees no change then', () => {
    const standing = session.rehearsal.state.elements.findIndex(({ holder }) => holder >= 0);
    const answer = ask({ kind: 'close-track', element: standing, reason: '' });
    expect(answer.refusal).not.toBeNull();
    expect(answer.changes).toEqual([]);
    expect(answer.lateness.after).toEqual(answer.lateness.before);
  });

  it('is the same each time', () => {
    expect(ask(hold(session))).toEqual(ask(hold(session)));
  });

  it('is none while the session does not run', () => {
    const early = running({ name: 'passing-loop', seed: 1, at: 1000 });
    const command: Command = { kind: 'hold-train', train: 0, hold: true };
    expect(askWhatIf(questionOf(early, command), () => presentOf(early))).toBeNull();
  });
});

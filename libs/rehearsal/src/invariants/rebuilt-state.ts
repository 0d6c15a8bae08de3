import { stepOf, type Aspect, type EngineState, type World } from '@blockbell/railway';

/** What the engine keeps up step by step although it follows from the trains' held paths. */
interface Derived {
  /** By element: the train that holds it, −1 for none. */
  readonly holders: number[];
  /** By section: the train whose path it lies on, −1 for none. */
  readonly claims: number[];
  /** By heading; null where there is no signal. */
  readonly signals: (Aspect | null)[];
  /** By train: where it stops and how far it may run, mm along its path; 0 for a train that is not on the railway. */
  readonly marks: number[];
  readonly limits: number[];
}

/** As the engine has it. */
function keptState({ elements, sections, signals, trains }: EngineState): Derived {
  return {
    holders: elements.map(({ holder }) => holder),
    claims: sections.map(({ claim }) => claim),
    signals: [...signals],
    marks: trains.map(({ path, mark }) => (path.length === 0 ? 0 : mark)),
    limits: trains.map(({ path, limit }) => (path.length === 0 ? 0 : limit)),
  };
}

/**
 * The same found anew from the paths alone. Each rule is written here a second time, from what it is for and not from
 * how the engine goes about it.
 */
function rebuiltState(world: World, state: EngineState): Derived {
  const ends = state.trains.map((_, train) => limits(world, state, train));
  return {
    holders: holders(world, state),
    claims: claims(world, state),
    signals: signals(world, state),
    marks: ends.map(({ mark }) => mark),
    limits: ends.map(({ limit }) => limit),
  };
}

/** All on a train's path, and the reversing sections whose gaps its tail has not yet crossed. */
function holders({ layout }: World, { trains }: EngineState): number[] {
  const held = layout.elements.map(() => -1);
  trains.forEach(({ path, tail }, train) => {
    for (const item of path) {
      held[item.element] = train;
      for (const { element } of stepOf(layout, item).gaps) {
        if (item.start > tail) held[element] = train;
      }
    }
  });
  return held;
}

function claims({ layout }: World, { trains }: EngineState): number[] {
  const claimed = layout.sections.map(() => -1);
  trains.forEach(({ path }, train) => {
    for (const item of path) {
      for (const { section } of stepOf(layout, item).pieces) {
        if (section >= 0) claimed[section] = train;
      }
    }
  });
  return claimed;
}

/**
 * Stop, unless the block's train has authority over the next block and its head has not yet passed the signal; everywhere
 * stop in a session in which nothing may run, and for a train that was stopped for a fault.
 */
function signals({ layout }: World, { trains, session }: EngineState): (Aspect | null)[] {
  const shown = layout.routesFrom.map((routes): Aspect | null =>
    routes.length > 0 ? 'stop' : null,
  );
  if (!['running', 'paused', 'ending'].includes(session.phase.kind)) return shown;
  for (const { path, authorised, edge, activity } of trains) {
    if (activity.kind === 'halted') continue;
    const blocks = path.flatMap(({ heading, end, calledOn = false }, at) =>
      heading < 0 ? [] : [{ heading, end, at, calledOn }],
    );
    blocks.forEach(({ heading, end }, place) => {
      if (shown[heading] === null || edge >= end) return;
      const [first, second] = blocks.slice(place + 1).filter(({ at }) => at <= authorised);
      if (first === undefined) return;
      if (first.calledOn) shown[heading] = 'call-on';
      else shown[heading] = second === undefined || second.calledOn ? 'caution' : 'proceed';
    });
  }
  return shown;
}

/** From the end of its block, mm, in which a train must stop that was called on. */
const CALLED_ON = 100;

/** The stop mark, and the last place short of fouling what lies beyond, in the last block it has authority over. */
function limits({ layout, foulingAhead }: World, { trains }: EngineState, train: number) {
  const { path, authorised } = trains[train]!;
  const last = path[authorised];
  if (last === undefined) return { mark: 0, limit: 0 };
  const { stopMarks } = layout.elements[last.element]!;
  return {
    mark: last.end - stopMarks[last.heading & 1]!,
    limit: last.end - Math.max(foulingAhead[last.heading]!, last.calledOn ? CALLED_ON : 0),
  };
}

/** The first thing that the engine has otherwise than it follows from the paths, in words; null: nothing. */
export function differenceFromRebuilt(world: World, state: EngineState): string | null {
  const one = keptState(state);
  const other = rebuiltState(world, state);
  for (const name of ['holders', 'claims', 'signals', 'marks', 'limits'] as const) {
    for (let at = 0; at < one[name].length; at++) {
      const has = one[name][at];
      const follows = other[name][at];
      if (has !== follows) return `${name}[${at}] is kept as ${has} but follows to be ${follows}`;
    }
  }
  return null;
}

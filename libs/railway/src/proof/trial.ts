import { reserve } from '../interlocking/reservation.js';
import { obstacleOn } from '../interlocking/route-check.js';
import { pathInBlock } from '../interlocking/held-path.js';
import type { LocomotiveId, TrainId } from '../ids.js';
import type { LayoutFile } from '../layout/layout-file.js';
import type { Heading, Layout, Route } from '../layout/layout.js';
import { createSession } from '../session/create-session.js';
import type { EngineState, TrainState } from '../session/state.js';
import { compileWorld, type World } from '../session/world.js';
import { Writer } from '../session/writer.js';
import type { StockFile } from '../stock/stock-file.js';
import { mm, mmPerS, mmPerS2 } from '../units.js';

/** Whose way is held, and who asks for another one. */
const HOLDER = 0;
const ASKER = 1;

/**
 * Lets the rules themselves speak: on clear track with power, one light engine stands in a block and holds a route, and the
 * rules are asked what another may have then.
 */
export class Trial {
  readonly #world: World;
  /** As it is with nothing held: what a trial changed is put back from here. */
  readonly #clear: EngineState;
  #w: Writer;

  constructor(file: LayoutFile, layout: Layout) {
    this.#world = {
      ...compileWorld({ ...file, stations: [] }, twoEngines(), noWork(file)),
      layout,
    };
    this.#clear = clearRailway(this.#world);
    this.#w = new Writer(this.#world, clearRailway(this.#world), 0, 0);
  }

  /** A clear railway on which the first engine stands before a route. */
  stand(heading: Heading): void {
    this.#putBack();
    this.#place(HOLDER, heading);
  }

  /** The engine before the route takes it. Returns the drives commanded for it. */
  hold(route: Route): number[] {
    reserve(this.#w, HOLDER, route);
    return this.#commanded();
  }

  /** Puts the other engine before a route it might ask for. */
  bring(heading: Heading): void {
    this.#place(ASKER, heading);
  }

  /** Takes it away again. */
  send(heading: Heading): void {
    const w = this.#w;
    const step = w.world.layout.blockSteps[heading]!;
    w.train(ASKER).path = [];
    w.element(step.element).holder = -1;
    for (const { section } of step.pieces) if (section >= 0) w.section(section).claim = -1;
  }

  /** It is not certain any more which engine the other one is. */
  doubt(): void {
    this.#w.train(ASKER).identity.certainty = 'ambiguous';
  }

  /** Whether the first engine was called on over the end of its way. */
  isCalledOn(): boolean {
    return this.#w.state.trains[HOLDER]!.path.at(-1)?.calledOn === true;
  }

  /** Whether the engine that stands before a route would be refused it now. */
  refusesFirst(route: Route): boolean {
    return obstacleOn(this.#world, this.#w.state, HOLDER, route) !== null;
  }

  /** Whether the other engine would be refused a route now. */
  refuses(route: Route): boolean {
    return obstacleOn(this.#world, this.#w.state, ASKER, route) !== null;
  }

  /** Lets the other engine take a route; returns the drives commanded for it. */
  take(route: Route): number[] {
    this.#w.effects.length = 0;
    reserve(this.#w, ASKER, route);
    return this.#commanded();
  }

  #commanded(): number[] {
    return this.#w.effects.flatMap((effect) =>
      effect.kind === 'device' && effect.command.kind === 'set-drive'
        ? [effect.command.element]
        : [],
    );
  }

  /** The rules change rows through the writer alone, and it knows which. */
  #putBack(): void {
    const { changes, state } = this.#w;
    for (const at of changes.elements) {
      state.elements[at] = { ...this.#clear.elements[at]!, flankFor: [] };
    }
    for (const at of changes.sections) state.sections[at] = { ...this.#clear.sections[at]! };
    for (const at of changes.signals) state.signals[at] = this.#clear.signals[at]!;
    for (const at of changes.trains) state.trains[at] = copyOf(this.#clear.trains[at]!);
    state.deadlines = [];
    this.#w = new Writer(this.#world, state, 0, 0);
  }

  #place(train: number, heading: Heading): void {
    const w = this.#w;
    const at = w.train(train);
    at.path = pathInBlock(w.world.layout, heading);
    at.authorised = 0;
    at.activity = { kind: 'standing' };
    at.confirmed = true;
    at.identity.certainty = 'declared';
    const step = w.world.layout.blockSteps[heading]!;
    w.element(step.element).holder = train;
    for (const { section } of step.pieces) if (section >= 0) w.section(section).claim = train;
  }
}

/** With power, every section clear, nobody anywhere. */
function clearRailway(world: World): EngineState {
  const state = createSession(world);
  state.session.phase = { kind: 'running' };
  for (const section of state.sections) section.belief = 'clear';
  for (const district of state.districts) district.power = 'on';
  return state;
}

/** A train's row is plain data. */
const copyOf = (train: TrainState): TrainState => JSON.parse(JSON.stringify(train)) as TrainState;

const ENGINES = ['engine-1', 'engine-2'] as const;

/** Two light engines: nothing shorter or weaker runs on its own. */
function twoEngines(): StockFile {
  const speeds = [{ step: 126, speed: mmPerS(100) }];
  return {
    kind: 'blockbell-stock',
    version: 1,
    id: 'proof',
    name: 'Two light engines',
    locomotives: ENGINES.map((id, at) => ({
      id: id as string as LocomotiveId,
      name: id,
      address: { kind: 'short', number: at + 1 },
      length: mm(10),
      topSpeed: mmPerS(100),
      speedTable: { forward: speeds, reverse: speeds },
      acceleration: mmPerS2(100),
      braking: mmPerS2(100),
      spread: { speed: 0, braking: 0 },
      answers: true,
      runOn: mm(0),
    })),
    cars: [],
    trains: ENGINES.map((id) => ({
      id: id as string as TrainId,
      label: id,
      name: id,
      class: 'works',
      priority: 1,
      vehicles: [{ locomotive: id as string as LocomotiveId, facing: 'forward' }],
      canReverse: true,
    })),
  };
}

const noWork = ({ id }: LayoutFile): Parameters<typeof compileWorld>[2] => ({
  kind: 'blockbell-timetable',
  version: 1,
  id: 'proof',
  name: 'No work',
  layout: id,
  stock: 'proof',
  day: '',
  clock: { start: '08:00', end: '09:00', ratio: 1 },
  services: [],
  connections: [],
  workings: [],
  storedPlaces: [],
});

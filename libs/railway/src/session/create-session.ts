import { setLimits } from '../interlocking/authority.js';
import { noWishes } from '../dispatching/wishes/wish.js';
import { pathInBlock } from '../interlocking/held-path.js';
import { standing } from '../movement/reckoning.js';
import { noAddedWork } from '../timetable/added-work.js';
import { emptyStaging } from '../yards/staging-state.js';
import { instant, um } from '../units.js';
import type { EngineState, Precedence, TrainState } from './state.js';
import { useWork, type World } from './world.js';
import { emptyLedger } from '../waiting/delay-ledger.js';
import { Writer } from './writer.js';

/** A session before power-up: nothing is known but the places where trains were stored. */
export function createSession(world: World, precedence: Precedence = 'booked'): EngineState {
  const added = noAddedWork();
  useWork(world, added);
  const { layout, stock, timetable } = world;
  const state: EngineState = {
    revision: 0,
    now: 0,
    session: {
      phase: { kind: 'set-up' },
      departuresHeld: false,
      clock: { ratio: timetable.ratio, fast: timetable.start, since: 0, running: false },
      begun: false,
    },
    sections: layout.sections.map(() => ({
      belief: 'unknown',
      raw: null,
      claim: -1,
      decoders: [],
      crowded: false,
      heard: [],
      clearByHand: null,
      unidentified: null,
      since: 0,
    })),
    elements: layout.elements.map(() => ({
      position: null,
      proof: 'none',
      holder: -1,
      flankFor: [],
      overlapFor: -1,
      tries: 0,
      possession: null,
    })),
    trains: stock.trains.map((_, index) => absentTrain(world, index)),
    districts: layout.districts.map(() => ({ power: 'off' })),
    buses: Object.fromEntries(layout.file.buses.map(({ id }) => [id, true])),
    signals: layout.routesFrom.map((routes) => (routes.length > 0 ? 'stop' : null)),
    doubts: [],
    alarms: [],
    nextAlarm: 0,
    deadlines: [],
    dispatching: {
      order: [],
      proven: false,
      search: null,
      searchFor: null,
      findings: {},
      due: false,
      starving: -1,
      precedence,
      plan: null,
      wishes: noWishes(),
    },
    staging: emptyStaging(stock.trains.length, timetable.openServices.length),
    added,
    counts: {
      grants: 0,
      refusedDoomed: 0,
      refusedExhausted: 0,
      asPlanned: 0,
      otherThanPlanned: 0,
      inferred: 0,
      reported: 0,
      reversals: 0,
      throws: 0,
      resets: 0,
      alarms: 0,
    },
  };
  const w = new Writer(world, state, 0, 0);
  timetable.storedPlaces.forEach((heading, index) => {
    if (heading !== null) expectAt(w, index, heading);
  });
  return state;
}

function absentTrain(world: World, index: number): TrainState {
  const node = world.graphs[index]!.absent;
  return {
    activity: { kind: 'absent' },
    identity: { certainty: 'expected', evidence: 'Not on the layout.', since: 0, misreads: 0 },
    path: [],
    mark: 0,
    limit: 0,
    authorised: 0,
    overlap: [],
    edge: 0,
    tail: 0,
    blind: [],
    proving: [],
    reckoning: standing({ low: um(0), high: um(0) }, um(0), instant(0)),
    frontLeads: true,
    leg: 0,
    node,
    nodes: [node],
    arrivedAt: null,
    arrivedReal: 0,
    held: false,
    handSpeed: null,
    wait: null,
    waitingSince: 0,
    calls: [],
    delay: emptyLedger(),
    told: null,
    confirmed: false,
    adrift: false,
    mustSee: false,
  };
}

/** A stored train: with its head at the stop mark of its block, to be confirmed. */
function expectAt(w: Writer, index: number, heading: number): void {
  const train = w.train(index);
  const { layout } = w.world;
  train.path = pathInBlock(layout, heading);
  const block = train.path[0]!;
  w.element(block.element).holder = index;
  for (const { section } of layout.blockSteps[heading]!.pieces) {
    if (section >= 0) w.section(section).claim = index;
  }
  setLimits(w, index);
  const head = um(train.mark * 1000);
  train.reckoning = standing({ low: head, high: head }, head, instant(0));
  train.edge = train.mark;
  train.tail = Math.min(0, train.mark - w.world.stock.trains[index]!.length);
  train.activity = { kind: 'standing' };
  train.identity.evidence = 'Stored here when the last session ended.';
  train.node = w.world.graphs[index]!.start;
  train.nodes = [train.node];
  train.arrivedAt = w.world.timetable.start;
}

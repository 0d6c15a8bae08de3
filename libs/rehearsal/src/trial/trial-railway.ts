import {
  endAhead,
  blockOf,
  type Heading,
  type Layout,
  type StockFile,
  type TimetableFile,
  type Train,
} from '@blockbell/railway';
import { InvariantChecker } from '../invariants/checker.js';
import { Rehearsal } from '../rehearsal.js';
import { ScriptedDispatcher } from '../scripted-dispatcher.js';
import type { TrialFault, TrialSetup } from './trial.js';

/** How long the line-up of one train may take, physical ms. */
const LINE_UP = 120_000;
/** How often the person of the trial looks, physical ms. */
const LOOK = 1000;

/** A session on the layout with a single train and nothing booked, ready to be told where to go. */
export interface TrialRailway {
  readonly rehearsal: Rehearsal;
  readonly checker: InvariantChecker;
}

/** Sets a train on the track at a heading and lines up; a fault where that does not come to a running session. */
export function layOut(
  setup: TrialSetup,
  layout: Layout,
  train: Train,
  at: Heading,
): TrialRailway | TrialFault {
  const rehearsal = new Rehearsal({
    layout: setup.layout,
    compiledLayout: layout,
    stock: { ...setup.stock, trains: [train.file] },
    timetable: nothingBooked(setup.layout.id, setup.stock, {
      train: train.file.id,
      block: layout.elements[blockOf(at)]!.id,
      towards: endAhead(at),
    }),
    seed: setup.seed,
    faults: setup.faults ?? [],
  });
  const checker = new InvariantChecker(rehearsal);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  while (rehearsal.state.session.phase.kind !== 'running') {
    if (rehearsal.now >= LINE_UP) return notLinedUp(rehearsal);
    rehearsal.runTo(rehearsal.now + LOOK);
    dispatcher.look();
  }
  return { rehearsal, checker };
}

function notLinedUp({ state }: Rehearsal): TrialFault {
  const alarm = state.alarms.findLast(({ clearedAt }) => clearedAt === null);
  return alarm === undefined
    ? { text: `Nothing may run after ${LINE_UP / 60_000} minutes of lining up.`, mend: null }
    : { text: alarm.text, mend: alarm.mend };
}

const nothingBooked = (
  layout: string,
  stock: StockFile,
  storedPlace: TimetableFile['storedPlaces'][number],
): TimetableFile => ({
  kind: 'blockbell-timetable',
  version: 1,
  id: 'route-trial',
  name: 'Route trial',
  layout,
  stock: stock.id,
  day: 'trial',
  clock: { start: '00:00', end: '24:00', ratio: 1 },
  services: [],
  connections: [],
  workings: [],
  storedPlaces: [storedPlace],
});

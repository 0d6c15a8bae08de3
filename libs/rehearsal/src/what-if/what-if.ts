import type { PlanningChoices } from '@blockbell/planning';
import {
  compileWorld,
  fastNow,
  mayRun,
  restoreWorkings,
  type Command,
  type EngineState,
  type LayoutFile,
  type SavedWorkings,
  type StockFile,
  type TimetableFile,
  type World,
} from '@blockbell/railway';
import { Rehearsal } from '../rehearsal.js';
import { arrivalsOf, compareArrivals, type ArrivalChange, type Arrivals } from './arrivals.js';
import { presumedLayout } from './presume.js';
import { latenessUntil, type Lateness } from './lateness.js';
import { trainsThatStand, type StandingTrain } from './standing.js';

/** A session at a moment, as plain data. */
export interface PresentSession {
  readonly state: EngineState;
  readonly workings: SavedWorkings;
}

export interface WhatIfQuestion {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  /** How plans are made meanwhile; left out: there are none. */
  readonly planning?: PlanningChoices;
  readonly command: Command;
  /** How far ahead, fast ms. */
  readonly horizon: number;
}

/** What a command is expected to change, if nothing else happens. */
export interface WhatIf {
  /** The moment it was asked of and how far was looked, fast ms. */
  readonly from: number;
  readonly until: number;
  /** Why the engine would refuse the command; null: it would take it. Then all else is as without it. */
  readonly refusal: string | null;
  /** Arrivals until then that come at another time, in the order in which they come without the command. */
  readonly changes: readonly ArrivalChange[];
  /** How many arrivals were compared. */
  readonly compared: number;
  /** Lateness of all booked arrivals until then, without the command and with it. */
  readonly lateness: { readonly before: Lateness; readonly after: Lateness };
  /** Trains that stand at the end with the command, each with why, other than for the timetable or the end of its work. */
  readonly standing: readonly StandingTrain[];
}

/** Seed of the delays of messages; any would do. */
const SEED = 1;
const BY = 'what-if';

/** What would happen with a command and what without; null while the session does not run: then nothing can be foretold. */
export function askWhatIf(question: WhatIfQuestion, present: () => PresentSession): WhatIf | null {
  const courses = foretell(question, present);
  if (courses === null) return null;
  const { from, until, refusal, had, before, after } = courses;
  return {
    from: Math.round(from),
    until: Math.round(until),
    refusal,
    ...compareArrivals(had, before, after, until),
    lateness: {
      before: latenessUntil(before.world, had, before.state, until),
      after: latenessUntil(after.world, had, after.state, until),
    },
    standing: refusal === null ? trainsThatStand(before, after) : [],
  };
}

/** Two courses of one session. */
interface Courses {
  readonly from: number;
  readonly until: number;
  readonly refusal: string | null;
  /** Arrivals that both had already. */
  readonly had: Arrivals;
  readonly before: Rehearsal;
  /** The same as without the command where that is refused. */
  readonly after: Rehearsal;
}

/**
 * The engine itself, from its present memory, on a layout as it believes it to be, once as it is and once with the command.
 * Deterministic.
 */
export function foretell(question: WhatIfQuestion, present: () => PresentSession): Courses | null {
  const before = begin(question, present());
  const { state } = before;
  if (!mayRun(state) || !state.session.clock.running) return null;
  const changed = begin(question, present());
  const refusal = changed.command(BY, question.command);
  const after = refusal === null ? changed : before;
  const from = fastNow(state.session.clock, state.now);
  const until = from + question.horizon;
  const had = arrivalsOf(state);
  runUntil(before, until);
  if (after !== before) runUntil(after, until);
  return { from, until, refusal, had, before, after };
}

/** Lets a session run on until the fast clock shows `until`, whatever its ratio becomes. */
function runUntil(run: Rehearsal, until: number): void {
  for (let left = leftOf(run, until); left > 0; left = leftOf(run, until)) {
    if (!run.state.session.clock.running) return;
    run.runTo(run.now + left);
  }
}

function leftOf({ state, now }: Rehearsal, until: number): number {
  const { clock } = state.session;
  return Math.ceil((until - fastNow(clock, now)) / clock.ratio);
}

function begin(question: WhatIfQuestion, { state, workings }: PresentSession): Rehearsal {
  const { layout, stock, timetable, planning } = question;
  const world: World = compileWorld(layout, stock, timetable);
  restoreWorkings(world, state.added, workings);
  const simulated = presumedLayout(world, state, SEED);
  const setup = { layout, stock, timetable, seed: SEED };
  return new Rehearsal(planning === undefined ? setup : { ...setup, planning }, {
    world,
    state,
    simulated,
  });
}

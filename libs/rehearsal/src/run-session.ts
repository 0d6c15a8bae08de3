import {
  contentHash,
  delayFigures,
  fastNow,
  storedPlaces,
  type DelayFigures,
  type EngineState,
} from '@blockbell/railway';
import { InvariantChecker } from './invariants/checker.js';
import type { Violation } from './invariants/violation.js';
import { Rehearsal, type RehearsalSetup, type StepObserver } from './rehearsal.js';
import { ScriptedDispatcher } from './scripted-dispatcher.js';
import {
  arrivalsAtLastCall,
  punctuality,
  servicesRun,
  type Punctuality,
  type ServiceArrival,
  type ServicesRun,
} from './services-run.js';
import { Tally, type Figures } from './tally/tally.js';

/** How far a session has come. */
export interface SessionProgress {
  /** Physical ms since the session was created. */
  readonly now: number;
  /** Fast-clock ms since midnight. */
  readonly fast: number;
  readonly services: ServicesRun;
  readonly violations: number;
}

/** What a whole session came to. */
export interface SessionReport {
  readonly seed: number;
  /** Whether it came to its end, all trains at booked places, within the time allowed. */
  readonly ended: boolean;
  /** Physical ms from the session's making to its end. */
  readonly duration: number;
  /** Fast-clock ms since midnight at the end. */
  readonly fast: number;
  readonly services: ServicesRun;
  readonly punctuality: Punctuality;
  /** Punctuality at three and five minutes, and whose delay it was; fast-clock ms. */
  readonly delays: DelayFigures;
  readonly lastCalls: readonly ServiceArrival[];
  /** Violations that no logic could have prevented are excused by their cause; the others are not. */
  readonly violations: {
    readonly broken: readonly Violation[];
    readonly excused: readonly Violation[];
  };
  readonly figures: Figures;
  /** The next line-up: where every train stands, as block id and the block end its front looks to. */
  readonly nextLineUp: ReturnType<typeof storedPlaces>;
  /** Content hash of the engine's state at the end: equal for equal files, seed and faults. */
  readonly digest: string;
}

/** How often the dispatcher looks round, physical ms. */
const LOOK = 1000;
/** How often progress is told, physical ms. */
const TELL = 30_000;
/** How much longer than booked a session may take, physical ms, before it is given up. */
const PATIENCE = 60 * 60_000;

/**
 * Runs a whole session, invariants checked after every step: power-up, line-up, timetable, end. Gives progress every
 * half minute of physical time and the report at last. Whoever answers progress with true breaks the session off, and
 * gets the report of what was run until then. `observe` is called after every step; `begin` once, before the first, for
 * whoever wants to watch or to meddle and to ask the checker.
 */
export function* runSession(
  setup: RehearsalSetup,
  observe?: StepObserver,
  begin?: (rehearsal: Rehearsal, checker: InvariantChecker) => void,
): Generator<SessionProgress, SessionReport, boolean | undefined> {
  const rehearsal = new Rehearsal(setup);
  if (observe !== undefined) rehearsal.observe(observe);
  const { world } = rehearsal;
  const checker = new InvariantChecker(rehearsal);
  const tally = new Tally(rehearsal);
  const dispatcher = new ScriptedDispatcher(rehearsal);
  begin?.(rehearsal, checker);
  const { start, end, ratio } = world.timetable;
  const longest = Math.round((end - start) / ratio) + PATIENCE;

  while (rehearsal.state.session.phase.kind !== 'ended' && rehearsal.now < longest) {
    rehearsal.runTo(rehearsal.now + LOOK);
    dispatcher.look();
    if (isWorkDone(rehearsal.state)) {
      rehearsal.command('scripted dispatcher', { kind: 'end-session' });
    }
    if (rehearsal.now % TELL === 0) {
      const breakOff = yield {
        now: rehearsal.now,
        fast: fastNow(rehearsal.state.session.clock, rehearsal.now),
        services: servicesRun(world, rehearsal.state),
        violations: checker.broken.length,
      };
      if (breakOff === true) break;
    }
  }
  return {
    seed: setup.seed,
    ended: rehearsal.state.session.phase.kind === 'ended',
    duration: rehearsal.now,
    fast: fastNow(rehearsal.state.session.clock, rehearsal.now),
    services: servicesRun(world, rehearsal.state),
    punctuality: punctuality(world, rehearsal.state),
    delays: delayFigures(
      world.layout,
      world.timetable,
      rehearsal.state.trains.map(({ calls }) => calls),
    ),
    lastCalls: arrivalsAtLastCall(world, rehearsal.state),
    violations: {
      broken: checker.broken,
      excused: checker.violations.filter(({ excuse }) => excuse !== null),
    },
    figures: tally.figures(),
    nextLineUp: storedPlaces(rehearsal),
    digest: contentHash(rehearsal.state),
  };
}

/** Whether every train of a session that runs is done with its work. */
export const isWorkDone = ({ session, trains }: EngineState): boolean =>
  session.phase.kind === 'running' &&
  trains.every(({ activity, wait }) => activity.kind === 'absent' || wait?.kind === 'finished');

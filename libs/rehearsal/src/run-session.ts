import {
  contentHash,
  delayFigures,
  fastNow,
  storedPlaces,
  type DelayFigures,
} from '@blockbell/railway';
import type { ReturnRun } from '@blockbell/staging';
import { InvariantChecker } from './invariants/checker.js';
import type { Violation } from './invariants/violation.js';
import { Rehearsal, type RehearsalSetup, type StepObserver } from './rehearsal.js';
import { longestSession, passSeconds, SessionEnd } from './session-loop.js';
import {
  arrivalsAtLastCall,
  punctuality,
  servicesRun,
  type Punctuality,
  type ServiceArrival,
  type ServicesRun,
} from './services-run.js';
import { Tally, type Figures } from './tally/tally.js';

/** A session to be run to its end. */
export interface SessionSetup extends RehearsalSetup {
  /** Whether the trains return to where they began once all work is done. */
  readonly returns?: boolean;
}

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
  /** Every return to start with how far it came, the last one last; none without one. */
  readonly returns: readonly ReturnRun[];
  /** Content hash of the engine's state at the end: equal for equal files, seed and faults. */
  readonly digest: string;
}

/** How often progress is told, physical ms. */
const TELL = 30_000;

/**
 * Runs a whole session, invariants checked after every step: power-up, line-up, timetable, end. Gives progress every
 * half minute of physical time and the report at last. Whoever answers progress with true breaks the session off, and
 * gets the report of what was run until then. `observe` is called after every step; `begin` once, before the first, for
 * whoever wants to watch or to meddle and to ask the checker.
 */
export function* runSession(
  setup: SessionSetup,
  observe?: StepObserver,
  begin?: (rehearsal: Rehearsal, checker: InvariantChecker) => void,
): Generator<SessionProgress, SessionReport, boolean | undefined> {
  const rehearsal = new Rehearsal(setup);
  if (observe !== undefined) rehearsal.observe(observe);
  const { world } = rehearsal;
  const checker = new InvariantChecker(rehearsal);
  const tally = new Tally(rehearsal);
  const end = new SessionEnd(rehearsal, setup.returns === true);
  begin?.(rehearsal, checker);

  for (const _ of passSeconds(rehearsal, longestSession(world.timetable))) {
    end.look();
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
    returns: end.returned?.runs ?? [],
    digest: contentHash(rehearsal.state),
  };
}

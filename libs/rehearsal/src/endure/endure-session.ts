import type { Fault, FaultKind } from '@blockbell/simulation';
import { differenceFromRebuilt } from '../invariants/rebuilt-state.js';
import type { InvariantNumber } from '../invariants/violation.js';
import { runSession, type SessionReport } from '../run-session.js';
import type { Rehearsal } from '../rehearsal.js';
import type { InvariantChecker } from '../invariants/checker.js';
import type { ServiceNotRun } from '../services-run.js';
import { addExcused, type Excused } from './excused.js';
import { countKinds, FaultDrawer } from './fault-drawer.js';
import { RATES, type FaultLevel } from './fault-rates.js';
import { IdentityWatch, type IdentityTimes } from './identity-watch.js';
import { Odometer } from './odometer.js';
import { bookedLength, drawRestarts, PeopleAtWork } from './people-at-work.js';
import { endureCase, type RailwayFiles, type SessionRequest } from './session-request.js';

/** What must never be, as it was first found in a session. */
export interface Failure {
  /** The invariant that was broken; `rebuilt`: the state differs from what follows from the paths; `threw`: an exception. */
  readonly what: InvariantNumber | 'rebuilt' | 'threw';
  readonly text: string;
  /** Number of the engine step after which it was found. */
  readonly step: number;
  /** Physical ms. */
  readonly at: number;
}

/** What one session of an endurance run came to. Plain data: it crosses from thread to thread. */
export interface SessionOutcome {
  readonly request: SessionRequest;
  readonly railway: string;
  readonly isDemo: boolean;
  readonly level: FaultLevel;
  readonly failure: Failure | null;
  readonly excused: readonly Excused[];
  readonly ended: boolean;
  readonly steps: number;
  /** Physical ms. */
  readonly duration: number;
  /** Of all trains together, mm on the model. */
  readonly distance: number;
  readonly edges: number;
  readonly throws: number;
  readonly services: { readonly planned: number; readonly run: number };
  readonly notRun: readonly ServiceNotRun[];
  readonly faults: Partial<Record<FaultKind, number>>;
  /** What people did meanwhile, and how often the program was killed; nothing unless asked for. */
  readonly people: Readonly<Record<'closed' | 'driven' | 'givenBack' | 'restarts', number>>;
  /** The faults as they came; only of a session that failed. */
  readonly script: readonly Fault[];
  readonly identity: IdentityTimes;
  /** Alarms by which a person was asked which train stands where, or what stands there. */
  readonly questions: number;
  /** All alarms. */
  readonly alarms: number;
  /** How often what is kept up was compared with what follows from the paths. */
  readonly compared: number;
  /** Content hash of the engine's state at the end; empty after an exception. */
  readonly digest: string;
}

/** Engine steps between two comparisons of the state kept up with the state rebuilt. */
const COMPARE_EVERY = 40;
const QUESTIONS = ['identity:', 'stranger:'];

/**
 * Runs one session to its end. Its faults are drawn at the rates of its level; `script` puts given ones in their place.
 * `onlyToFailure` breaks it off soon after its first failure, for whoever wants to know nothing else.
 */
export function endureSession(
  request: SessionRequest,
  demo: RailwayFiles,
  script: readonly Fault[] | null = null,
  onlyToFailure = false,
): SessionOutcome {
  const { layout, stock, timetable, seed, level, isDemo } = endureCase(request, demo);
  const watches: SessionWatches[] = [];
  const people: PeopleAtWork[] = [];
  const setup = { layout, stock, timetable, seed, ...(script === null ? {} : { faults: script }) };
  const restarts = request.people === true ? drawRestarts(bookedLength(timetable), seed) : [];
  const session = runSession({ ...setup, restarts }, undefined, (rehearsal, checker) => {
    if (request.people === true) {
      people.push(new PeopleAtWork(rehearsal, bookedLength(timetable), seed));
    }
    const rates = RATES[script === null ? level : 'none'];
    watches.push(new SessionWatches(rehearsal, checker, new FaultDrawer(rehearsal, rates, seed)));
  });
  let report: SessionReport | null = null;
  let threw: string | null = null;
  try {
    let next = session.next();
    while (next.done !== true) {
      people[0]?.look();
      next = session.next(onlyToFailure && watches[0]!.firstFailure(null) !== null);
    }
    report = next.value;
  } catch (error) {
    threw = error instanceof Error ? (error.stack ?? error.message) : String(error);
  }
  const watch = watches[0]!;
  const failure = watch.firstFailure(threw);
  const faults = script ?? watch.drawer.script;
  return {
    request,
    railway: layout.name,
    isDemo,
    level,
    failure,
    excused: addExcused(
      (report?.violations.excused ?? []).map(({ invariant, excuse }) => ({
        invariant,
        cause: excuse!,
        count: 1,
      })),
    ),
    ended: report?.ended ?? false,
    steps: watch.steps,
    duration: watch.rehearsal.now,
    distance: Math.round(watch.odometer.distance),
    edges: watch.drawer.edges,
    throws: watch.drawer.throws,
    services: { planned: report?.services.planned ?? 0, run: report?.services.run ?? 0 },
    notRun: report?.services.notRun ?? [],
    faults: countKinds(faults),
    people: {
      ...(people[0]?.counts ?? { closed: 0, driven: 0, givenBack: 0 }),
      restarts: restarts.length,
    },
    script: failure === null ? [] : faults,
    identity: watch.identity.times,
    questions: watch.questions,
    alarms: report?.figures.alarms ?? 0,
    compared: watch.compared,
    digest: report?.digest ?? '',
  };
}

/** All that is looked at in a session besides the invariants. */
class SessionWatches {
  readonly odometer: Odometer;
  readonly identity: IdentityWatch;
  questions = 0;
  steps = 0;
  compared = 0;
  #differs: Failure | null = null;
  /** Alarms up to this id have been looked at. */
  #alarm = 0;

  constructor(
    readonly rehearsal: Rehearsal,
    readonly checker: InvariantChecker,
    readonly drawer: FaultDrawer,
  ) {
    this.odometer = new Odometer(rehearsal);
    this.identity = new IdentityWatch(rehearsal, (train) => checker.excuseAstray(train));
    rehearsal.observe(() => {
      this.steps++;
      this.#countQuestions();
      if (this.steps % COMPARE_EVERY === 0) this.#compare();
    });
  }

  /** What went wrong first: an exception ends the session, so that it always comes last. */
  firstFailure(threw: string | null): Failure | null {
    const broken = this.checker.broken.at(0);
    const found: Failure[] = [];
    if (broken !== undefined) {
      const { invariant, text, step, at } = broken;
      found.push({ what: invariant, text, step, at });
    }
    if (this.#differs !== null) found.push(this.#differs);
    if (threw !== null) {
      const { state, now } = this.rehearsal;
      found.push({ what: 'threw', text: threw, step: state.revision, at: now });
    }
    return found.sort((a, b) => a.step - b.step)[0] ?? null;
  }

  #compare(): void {
    const { world, state, now } = this.rehearsal;
    this.compared++;
    if (this.#differs !== null) return;
    const text = differenceFromRebuilt(world, state);
    if (text !== null) this.#differs = { what: 'rebuilt', text, step: state.revision, at: now };
  }

  #countQuestions(): void {
    const { alarms, nextAlarm } = this.rehearsal.state;
    if (nextAlarm === this.#alarm) return;
    for (const { id, key } of alarms) {
      if (id >= this.#alarm && QUESTIONS.some((each) => key.startsWith(each))) this.questions++;
    }
    this.#alarm = nextAlarm;
  }
}

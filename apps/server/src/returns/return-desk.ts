import { Inject, Injectable, Logger, type OnModuleDestroy } from '@nestjs/common';
import type { ReturnView } from '@blockbell/contract';
import {
  awaitsTrain,
  refusal,
  type EngineState,
  type Refusal,
  type World,
} from '@blockbell/railway';
import {
  answered,
  beginReturn,
  dueCommands,
  isOver,
  tellReturn,
  type ReturnRun,
} from '@blockbell/staging';
import { RefusalException } from '../refusal/refusal.exception.js';
import { SessionService } from '../session/session.service.js';
import { planInThread } from './plan-in-thread.js';

/** A plan of the session that ran when it was made. */
interface Planned {
  readonly number: number;
  readonly session: string;
  /** Where the trains stood. */
  readonly places: string;
  readonly run: ReturnRun;
  /** Who has it carried out; null: nobody yet. */
  by: string | null;
}

/** How often it is looked whether a move is due, real ms. */
const LOOK = 500;

/** Plans how the trains of the session return to where it began, and has it carried out, move by move, through the engine. */
@Injectable()
export class ReturnDesk implements OnModuleDestroy {
  readonly #logger = new Logger(ReturnDesk.name);
  #planned: Planned | null = null;
  #isPlanning = false;
  #isGiving = false;
  #timer: ReturnType<typeof setInterval> | undefined;

  constructor(@Inject(SessionService) private readonly sessions: SessionService) {}

  view(): Omit<ReturnView, 'ok'> {
    const planned = this.#present();
    const barred = this.#barred();
    if (planned === null) return { barred, plan: null };
    const { number, run } = planned;
    const told = tellReturn(this.sessions.seen().world, run);
    return { barred, plan: { number, state: stateOf(planned), ...told } };
  }

  /** Makes a plan from where the trains stand now. */
  async plan(): Promise<void> {
    const barred = this.#barred() ?? (this.#isPlanning ? IS_PLANNING : null);
    if (barred !== null) throw new RefusalException(409, barred);
    this.#isPlanning = true;
    try {
      const { layout, stock, timetable } = this.sessions.files();
      const session = this.sessions.id;
      const { state } = this.sessions.seen();
      const places = placesOf(state);
      const plan = await planInThread({ layout, stock, timetable, state });
      const number = (this.#planned?.number ?? 0) + 1;
      this.#planned = { number, session, places, run: beginReturn(plan), by: null };
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      throw new RefusalException(503, refusal('no-plan', `No plan could be made: ${why}.`));
    } finally {
      this.#isPlanning = false;
    }
  }

  /** Has a plan carried out, if it is the last one and the trains stand where they stood when it was made. */
  carryOut(by: string, number: number): void {
    const barred = this.#barred();
    if (barred !== null) throw new RefusalException(409, barred);
    const planned = this.#present();
    if (planned?.number !== number || planned.by !== null)
      throw new RefusalException(409, OTHER_PLAN);
    if (planned.places !== placesOf(this.sessions.seen().state))
      throw new RefusalException(409, TRAINS_MOVED);
    planned.by = by;
    this.sessions.say(`${by}: return to start, ${planned.run.plan.moves.length} moves`);
    this.#timer = setInterval(() => void this.#look(), LOOK).unref();
    void this.#look();
  }

  /** No more moves are begun; trains under way come to the end of what they have. */
  stop(by: string): void {
    const planned = this.#present();
    if (planned === null || stateOf(planned) !== 'running')
      throw new RefusalException(409, NONE_GOES_ON);
    planned.run.stopped = true;
    this.sessions.say(`${by} stopped the return to start.`);
    void this.#look();
  }

  onModuleDestroy(): void {
    clearInterval(this.#timer);
  }

  /** The last plan, while the session it was made for runs. */
  #present(): Planned | null {
    return this.#planned?.session === this.sessions.id ? this.#planned : null;
  }

  #barred(): Refusal | null {
    const planned = this.#present();
    if (planned !== null && stateOf(planned) === 'running') return GOES_ON;
    const { world, state } = this.sessions.seen();
    return whyNotYet(world, state);
  }

  /** Gives what is due. */
  async #look(): Promise<void> {
    const planned = this.#present();
    if (planned === null) clearInterval(this.#timer);
    if (planned === null || this.#isGiving) return;
    this.#isGiving = true;
    try {
      for (let isAccepted = true; isAccepted;) isAccepted = await this.#giveDue(planned);
    } catch (error) {
      planned.run.stopped = true;
      this.#logger.error(error);
    } finally {
      this.#isGiving = false;
    }
    if (!isOver(planned.run)) return;
    clearInterval(this.#timer);
    const { progress, plan } = planned.run;
    const made = progress.filter(({ stage }) => stage === 'made').length;
    const people = plan.left.length === 0 ? '' : `; left to a person: ${plan.left.length}`;
    this.sessions.say(`Return to start: ${made} of ${plan.moves.length} moves made${people}.`);
  }

  async #giveDue({ run, session, by }: Planned): Promise<boolean> {
    const { world, state } = this.sessions.seen();
    let isAccepted = false;
    for (const { move, command } of dueCommands(world, state, run)) {
      if (run.stopped || this.sessions.id !== session) return false;
      const refused = await this.sessions.give(`${by}, return to start`, command);
      answered(run, move, refused?.text ?? null, state.now);
      isAccepted ||= refused === null;
    }
    return isAccepted;
  }
}

function stateOf({ run, by }: Planned): NonNullable<ReturnView['plan']>['state'] {
  if (by === null) return 'planned';
  if (!isOver(run)) return 'running';
  return run.stopped ? 'stopped' : 'ended';
}

/** Where each train's way ends, and which way round it stands. */
const placesOf = ({ trains }: EngineState): string =>
  trains
    .map(({ activity, path, frontLeads }) =>
      activity.kind === 'absent' ? '-' : `${path.at(-1)?.heading} ${frontLeads}`,
    )
    .join();

/** Why the trains of a session can't return yet; null: they can. */
function whyNotYet({ graphs, stock }: World, state: EngineState): Refusal | null {
  const { session, trains } = state;
  if (session.phase.kind !== 'running') return NOT_RUNNING;
  const busy = trains.findIndex(
    ({ activity, leg }, train) =>
      (activity.kind === 'standing' || activity.kind === 'moving') && leg < graphs[train]!.legCount,
  );
  if (busy >= 0) {
    const { label } = stock.trains[busy]!.file;
    return refusal(
      'work-left',
      `${label} still has services to run. Wait until all work is done, or cancel what is left of it.`,
    );
  }
  if (awaitsTrain(state)) return AWAITED;
  const moving = trains.findIndex(({ activity }) => activity.kind === 'moving');
  if (moving < 0) return null;
  return refusal(
    'still-moving',
    `${stock.trains[moving]!.file.label} moves; wait until it stands.`,
  );
}

const AWAITED = refusal(
  'work-left',
  'A service that names no train is still to leave. Wait until it has run or is given up.',
);
const NOT_RUNNING = refusal(
  'not-running',
  'Trains return to start at the end of a session that runs, before it is ended.',
);
const IS_PLANNING = refusal('is-planning', 'A plan is being made just now; look again.');
const GOES_ON = refusal(
  'return-goes-on',
  'A return to start goes on. Wait for its end, or stop it.',
);
const OTHER_PLAN = refusal(
  'other-plan',
  'This is not the last plan, or it was carried out already. Plan again.',
);
const TRAINS_MOVED = refusal(
  'trains-moved',
  'Trains were moved since the plan was made. Plan again.',
);
const NONE_GOES_ON = refusal('no-return', 'No return to start goes on.');

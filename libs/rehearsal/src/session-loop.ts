import { awaitsTrain, type EngineState, type Timetable } from '@blockbell/railway';
import type { Rehearsal } from './rehearsal.js';
import { ReturningTrains } from './returning-trains.js';
import { ScriptedDispatcher } from './scripted-dispatcher.js';

/** How often the dispatcher looks round, physical ms. */
const LOOK = 1000;
/** How much longer than booked a session may take, physical ms, before it is given up. */
const PATIENCE = 60 * 60_000;

/** Physical ms after which a session is given up. */
export const longestSession = ({ start, end, ratio }: Timetable): number =>
  Math.round((end - start) / ratio) + PATIENCE;

/** Whether every train of a session that runs is done with its work, and no service waits for a train. */
export const isWorkDone = (state: EngineState): boolean =>
  state.session.phase.kind === 'running' &&
  !awaitsTrain(state) &&
  state.trains.every(
    ({ activity, wait }) => activity.kind === 'absent' || wait?.kind === 'finished',
  );

/** Lets time pass, and a dispatcher look round every second, until the session has ended or `until` is over, ms; yields after each look. */
export function* passSeconds(rehearsal: Rehearsal, until: number): Generator<void, void> {
  const dispatcher = new ScriptedDispatcher(rehearsal);
  while (rehearsal.state.session.phase.kind !== 'ended' && rehearsal.now < until) {
    rehearsal.runTo(rehearsal.now + LOOK);
    dispatcher.look();
    yield;
  }
}

/** Who ends the session once all work is done; first, if so asked, the trains return to where they began. */
export class SessionEnd {
  #returning: ReturningTrains | null = null;

  constructor(
    private readonly rehearsal: Rehearsal,
    private readonly returns: boolean,
  ) {}

  /** The return to start as it was carried out; null: there was none. */
  get returned(): ReturningTrains | null {
    return this.#returning;
  }

  look(): void {
    const { rehearsal } = this;
    if (this.#returning === null && !isWorkDone(rehearsal.state)) return;
    if (this.returns) {
      this.#returning ??= new ReturningTrains(rehearsal);
      if (!this.#returning.look()) return;
    }
    rehearsal.command('scripted dispatcher', { kind: 'end-session' });
  }
}

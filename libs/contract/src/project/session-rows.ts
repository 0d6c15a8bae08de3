import { openQuestions } from '@blockbell/railway';
import type { Alarm, CallFile, EngineState, SessionPhase, World } from '@blockbell/railway';
import type { AlarmView, SessionView } from '../messages/views.js';

type AddedCall = NonNullable<SessionView['added']>['services'][number]['file']['calls'][number];

/** What a board is told of a session that its engine doesn't know. */
export interface SessionLabels {
  readonly id: string;
  readonly name: string;
  /** As the timetable calls it. */
  readonly day: string;
  /** Names the layout's connection, e.g. "simulated layout". */
  readonly device: string;
  /** Physical ms per wall-clock ms; 1 on a real layout. */
  readonly pace: number;
  /** Who drives which train. */
  readonly crews: SessionView['crews'];
}

export function sessionRow(world: World, state: EngineState, labels: SessionLabels): SessionView {
  const { phase, departuresHeld, clock } = state.session;
  return {
    id: labels.id,
    name: labels.name,
    day: labels.day,
    phase: phase.kind,
    why: whyOf(phase),
    departuresHeld,
    clock: { fast: clock.fast, since: clock.since, ratio: clock.ratio, running: clock.running },
    pace: labels.pace,
    device: labels.device,
    districts: state.districts.map(({ power }) => power),
    openQuestions: openQuestions(world, state),
    stagingRules: state.staging.rules?.name ?? null,
    added: addedRow(state),
    stagingUsed: { ...state.staging.lastUsed },
    openServices: state.staging.open.map((run) => ({
      state: run.kind,
      train: run.kind === 'given' ? run.train : null,
      why: run.why,
    })),
    crews: labels.crews,
  };
}

const addedRow = ({ added }: EngineState): SessionView['added'] => ({
  services: added.services.map(({ train, file }) => ({
    train,
    file: { ...file, calls: file.calls.map(callRow) },
  })),
  workings: added.workings.map(({ train, services }) => ({ train, services: [...services] })),
  elsewhere: added.elsewhere.map((call) => ({ ...call })),
});

const callRow = ({ tracks, ...call }: CallFile): AddedCall =>
  tracks === undefined ? call : { ...call, tracks: [...tracks] };

function whyOf(phase: SessionPhase): string | null {
  switch (phase.kind) {
    case 'stopped':
    case 'powerless':
      return phase.why;
    case 'line-up':
      return phase.settled ? null : 'Waiting until every power district has reported.';
    default:
      return null;
  }
}

export const alarmRow = (alarm: Alarm): AlarmView => ({
  id: alarm.id,
  text: alarm.text,
  mend: alarm.mend,
  raisedAt: alarm.raisedAt,
  raisedFast: alarm.raisedFast,
  clearedAt: alarm.clearedAt,
  acknowledgedBy: alarm.acknowledgedBy,
});

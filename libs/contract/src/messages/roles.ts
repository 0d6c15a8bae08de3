import type { CommandMessage } from './commands.js';
import { role as roleSchema, type Role } from './people.js';

/** What a person may ask of the server: every command of the session, and what lies beside it. */
export type Act =
  | CommandMessage['command']['kind']
  | 'set-pace'
  | 'put-crew'
  | 'see-people'
  | 'check-timetable'
  | 'ask-what-if'
  | 'try-routes'
  | 'rehearse'
  | 'return-to-start'
  | 'summarise'
  | 'manage-people'
  | 'begin-session'
  | 'store-file';

/** `own`: with the train that this person is crew of, and no other. */
type Leave = 'yes' | 'own' | 'no';

const EVERYBODY_AT_WORK = ['no', 'yes', 'yes', 'yes'] as const;
const CREW_WITH_ITS_TRAIN = ['no', 'own', 'yes', 'yes'] as const;
const DISPATCHERS = ['no', 'no', 'yes', 'yes'] as const;
const BUILDERS = ['no', 'no', 'no', 'yes'] as const;

/**
 * Who may do what, where people sign in. Stopping comes before rank: whoever is at work may stop everything.
 *
 * Columns: visitor, crew, dispatcher, builder.
 */
export const LEAVE: Readonly<Record<Act, readonly [Leave, Leave, Leave, Leave]>> = {
  'stop-all': EVERYBODY_AT_WORK,
  'cut-power': EVERYBODY_AT_WORK,

  'take-in-hand': CREW_WITH_ITS_TRAIN,
  drive: CREW_WITH_ITS_TRAIN,
  'turn-round': CREW_WITH_ITS_TRAIN,
  'release-train': CREW_WITH_ITS_TRAIN,
  'hold-train': CREW_WITH_ITS_TRAIN,
  'put-crew': CREW_WITH_ITS_TRAIN,

  'power-up': DISPATCHERS,
  'confirm-place': DISPATCHERS,
  'confirm-absent': DISPATCHERS,
  'confirm-clear': DISPATCHERS,
  'declare-identity': DISPATCHERS,
  start: DISPATCHERS,
  pause: DISPATCHERS,
  resume: DISPATCHERS,
  'end-session': DISPATCHERS,
  'hold-departures': DISPATCHERS,
  'set-route': DISPATCHERS,
  'give-back-route': DISPATCHERS,
  'close-track': DISPATCHERS,
  'reopen-track': DISPATCHERS,
  'choose-track': DISPATCHERS,
  'go-first': DISPATCHERS,
  'cancel-services': DISPATCHERS,
  'restore-services': DISPATCHERS,
  'add-service': DISPATCHERS,
  'follow-staging-rules': DISPATCHERS,
  'set-clock-ratio': DISPATCHERS,
  'set-pace': DISPATCHERS,
  'acknowledge-alarm': DISPATCHERS,
  'see-people': DISPATCHERS,
  'check-timetable': DISPATCHERS,
  'ask-what-if': DISPATCHERS,
  'try-routes': DISPATCHERS,
  rehearse: DISPATCHERS,
  'return-to-start': DISPATCHERS,
  summarise: DISPATCHERS,

  'begin-session': BUILDERS,
  'store-file': BUILDERS,
  'manage-people': BUILDERS,
};

/** What a refusal calls the act: "only a dispatcher may …". */
const WORDS: Readonly<Record<Act, string>> = {
  'stop-all': 'stop all trains',
  'cut-power': 'cut the power',
  'take-in-hand': 'take a train in hand or give it back',
  drive: 'set the speed of a train',
  'turn-round': 'turn a train round',
  'release-train': 'release a stopped train',
  'hold-train': 'hold a train or let it go',
  'put-crew': 'put a crew on a train',
  'power-up': 'switch the power on',
  'confirm-place': 'say where a train stands',
  'confirm-absent': 'say that a train is not on the layout',
  'confirm-clear': 'say that a track is clear',
  'declare-identity': 'say which train stands in a block',
  start: 'start the session',
  pause: 'pause the session',
  resume: 'resume the session',
  'end-session': 'end the session',
  'hold-departures': 'hold departures or let them go',
  'set-route': 'set a route',
  'give-back-route': 'give a route back',
  'close-track': 'close track for work',
  'reopen-track': 'reopen track',
  'choose-track': 'choose the track of a call',
  'go-first': 'let one train go before another',
  'cancel-services': 'cancel services',
  'restore-services': 'have cancelled services run after all',
  'add-service': 'add a service',
  'follow-staging-rules': 'say by which rules the staging yards are worked',
  'set-clock-ratio': 'set the ratio of the fast clock',
  'set-pace': 'set the pace of the simulated time',
  'acknowledge-alarm': 'acknowledge an alarm',
  'see-people': 'see who may sign in',
  'check-timetable': 'work on a timetable',
  'ask-what-if': 'ask what a command would change',
  'try-routes': 'try routes in simulation',
  rehearse: 'rehearse sessions in the background',
  'return-to-start': 'have the trains return to where they began',
  summarise: 'have a session summarised',
  'begin-session': 'begin another session',
  'store-file': 'send a file',
  'manage-people': 'manage the people who may sign in',
};

/** In the order of the columns. */
const ROLES: readonly Role[] = roleSchema.options;

/** What each role does, in a word for refusals. */
const PLACES: Readonly<Record<Role, string>> = {
  visitor: 'A visitor looks on',
  crew: 'A crew drives its train',
  dispatcher: 'A dispatcher runs the session',
  builder: 'A builder may do everything',
};

/** Whether a role may do this, for crews with their own train; `own` says whether the train in question is theirs. */
export function mayDo(role: Role, act: Act, own: boolean): boolean {
  const leave = leaveOf(role, act);
  return leave === 'yes' || (leave === 'own' && own);
}

/** Why a role may not do this, in one sentence, or null where it may. */
export function whyNot(role: Role, act: Act, own: boolean): string | null {
  if (mayDo(role, act, own)) return null;
  if (leaveOf(role, act) === 'own')
    return `A crew drives its own train and no other; to ${WORDS[act]} is otherwise for a dispatcher.`;
  const allowed = ROLES.filter((one) => leaveOf(one, act) === 'yes');
  return `${PLACES[role]}; only a ${allowed.join(' or a ')} may ${WORDS[act]}.`;
}

const leaveOf = (role: Role, act: Act): Leave => LEAVE[act][ROLES.indexOf(role)] ?? 'no';

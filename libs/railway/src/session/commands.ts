import { unprovenDrive } from '../interlocking/authority.js';
import { driveBeingProven } from '../interlocking/prove-again.js';
import { routeByHand, turnRound } from '../dispatching/by-hand.js';
import { addService } from '../dispatching/added/add-service.js';
import { cancelServices, restoreServices } from '../dispatching/wishes/cancel.js';
import { letGoFirst } from '../dispatching/wishes/first-wish.js';
import { wishTrack } from '../dispatching/wishes/track-wish.js';
import { wishPhrase } from '../dispatching/wishes/wish-words.js';
import { closeTrack, reopenTrack } from '../interlocking/closing.js';
import { showSignals } from '../interlocking/signals.js';
import { withdrawRoute } from '../interlocking/withdraw.js';
import { driveInHand, takeInHand } from '../movement/in-hand.js';
import { clearHalt } from '../movement/halt.js';
import { stands } from '../movement/standing.js';
import { goOn } from './go-on.js';
import { findHeadFromEdge } from '../occupancy/find-head.js';
import { seenOnlyBehind } from '../occupancy/seen-only-behind.js';
import { proveTail } from '../occupancy/tail-proof.js';
import { settleClock } from '../timetable/fast-clock.js';
import { acknowledgeAlarm } from './alarms.js';
import type { Command, CommandKind } from './input.js';
import { confirmClear } from './confirm-clear.js';
import { confirmAbsent, declarePlace } from './declarations.js';
import { followRules } from '../yards/follow-rules.js';
import { openQuestions } from './line-up.js';
import { cutAllPower, powerUp } from './power.js';
import { stopEverything } from './stop-all.js';
import { refusal, type Refusal } from './refusal.js';
import type { Writer } from './writer.js';

/** Not written into the log: a throttle speaks many times a second, and alarms show who has seen them. */
const UNSPOKEN: ReadonlySet<CommandKind> = new Set(['drive', 'acknowledge-alarm']);

/** Carries out a person's command, or says why not. */
export function obey(w: Writer, by: string, command: Command): Refusal | null {
  const unknown = unknownSubject(w, command);
  if (unknown !== null) return unknown;
  const refused = carryOut(w, by, command);
  if (refused === null && !UNSPOKEN.has(command.kind)) w.log(`${by}: ${phrase(w, command)}`);
  return refused;
}

function carryOut(w: Writer, by: string, command: Command): Refusal | null {
  switch (command.kind) {
    case 'power-up':
      return raisePower(w);
    case 'confirm-place':
      return declarePlace(w, by, command.train, command.heading);
    case 'declare-identity':
      return declarePlace(w, by, command.train, command.block * 2, true);
    case 'confirm-absent':
      return confirmAbsent(w, command.train);
    case 'confirm-clear':
      return confirmClear(w, by, command.block);
    case 'start':
    case 'resume':
      return run(w, command.kind);
    case 'pause':
      return pause(w);
    case 'hold-departures':
      w.session().departuresHeld = command.hold;
      w.state.dispatching.due = true;
      return null;
    case 'stop-all':
      return stopAll(w, by);
    case 'cut-power':
      if (w.state.session.phase.kind !== 'powerless') cutAllPower(w, `cut by ${by}`);
      return null;
    case 'set-clock-ratio':
      return setRatio(w, command.ratio);
    case 'end-session':
      return endSession(w);
    case 'acknowledge-alarm':
      return acknowledgeAlarm(w, command.alarm, by)
        ? null
        : refusal('no-such-alarm', 'There is no such alarm any more.');
    case 'hold-train':
      w.train(command.train).held = command.hold;
      w.state.dispatching.due = true;
      return null;
    case 'release-train':
      return release(w, command.train);
    case 'set-route':
      return routeByHand(w, command.train, command.block, command.route);
    case 'give-back-route':
      return giveBack(w, command.train);
    case 'turn-round':
      return turnRound(w, command.train);
    case 'take-in-hand':
      return takeInHand(w, command.train, command.take);
    case 'drive':
      return driveInHand(w, command.train, command.speed);
    case 'close-track':
      return closeTrack(w, command.element, command.reason);
    case 'reopen-track':
      return reopenTrack(w, command.element);
    case 'choose-track':
      return wishTrack(w, command.train, command, command.track);
    case 'go-first':
      return letGoFirst(w, command.train, command.before, command.first);
    case 'cancel-services':
      return cancelServices(w, command.train, command.service, command.through);
    case 'restore-services':
      return restoreServices(w, command.train, command.service);
    case 'add-service':
      return addService(w, command.train, command.service, command.before);
    case 'follow-staging-rules':
      return followRules(w, command.rules);
  }
}

/** Indexes from outside may name nothing. */
function unknownSubject(w: Writer, command: Command): Refusal | null {
  const { layout, stock } = w.world;
  if ('train' in command && stock.trains[command.train] === undefined) {
    return refusal('no-such-train', `There is no train number ${command.train}.`);
  }
  if (command.kind === 'confirm-clear') {
    return layout.elements[command.block]?.sections.length
      ? null
      : refusal('no-such-block', `Number ${command.block} is no detected track of this layout.`);
  }
  if (command.kind === 'go-first' && stock.trains[command.before] === undefined) {
    return refusal('no-such-train', `There is no train number ${command.before}.`);
  }
  if ('block' in command && layout.elements[command.block]?.kind !== 'block') {
    return refusal('no-such-block', `Number ${command.block} is no block of this layout.`);
  }
  if ('element' in command && layout.elements[command.element] === undefined) {
    return refusal('no-such-element', `Number ${command.element} is no track of this layout.`);
  }
  if ('heading' in command && !layout.blockSteps[command.heading]) {
    return refusal(
      'no-such-block',
      `Number ${command.heading} is no way along a block of this layout.`,
    );
  }
  return null;
}

function raisePower(w: Writer): Refusal | null {
  const { kind } = w.state.session.phase;
  const dead = w.state.districts.some(({ power }) => power !== 'on');
  if (
    kind === 'set-up' ||
    kind === 'powerless' ||
    kind === 'stopped' ||
    (kind === 'line-up' && dead)
  ) {
    powerUp(w);
    return null;
  }
  return kind === 'ended'
    ? refusal('ended', 'The session has ended; begin another one to run trains again.')
    : refusal('power-is-on', 'Power is on already.');
}

/** Start and resume: only from confirmed places, with power, and with an order that brings every train home. */
function run(w: Writer, kind: 'start' | 'resume'): Refusal | null {
  const session = w.session();
  const { phase } = session;
  const mayStart =
    phase.kind === 'line-up' ||
    (kind === 'resume' && (phase.kind === 'paused' || phase.kind === 'stopped'));
  if (!mayStart)
    return refusal(
      'wrong-phase',
      `The session cannot be ${kind === 'start' ? 'started' : 'resumed'} from here.`,
    );
  const refused = phase.kind === 'paused' ? null : notReady(w);
  if (refused !== null) return refused;
  settleClock(session.clock, w.now);
  session.clock.running = true;
  session.phase = { kind: 'running' };
  if (!session.begun) {
    session.begun = true;
    for (const train of w.state.trains) train.arrivedReal = w.now;
  }
  w.state.trains.forEach((train, index) => {
    showSignals(w, index);
    const { kind: activity } = train.activity;
    if (activity === 'absent') return;
    // Sections behind it may have gone free while nothing was watched.
    proveTail(w, index);
    if (activity === 'standing' || activity === 'moving') goOn(w, index);
  });
  w.state.dispatching.due = true;
  return null;
}

function notReady(w: Writer): Refusal | null {
  const { phase } = w.state.session;
  if (phase.kind === 'line-up' && !phase.settled) {
    return refusal('not-settled', 'The detectors are still reporting; wait a moment.');
  }
  const off = w.state.districts.findIndex(({ power }) => power !== 'on');
  if (off >= 0) {
    return refusal(
      'no-power',
      `District ${w.world.layout.districts[off]} has no power; raise it first.`,
    );
  }
  const silent = w.world.layout.file.buses.find(({ id }) => !w.state.buses[id]);
  if (silent !== undefined) {
    return refusal('bus-silent', `Bus ${silent.id} is silent; see to its cable and supply first.`);
  }
  const open = openQuestions(w.world, w.state);
  if (open > 0) {
    const what = open === 1 ? 'One place is' : `${open} places are`;
    return refusal('open-questions', `${what} not confirmed; answer the line-up first.`);
  }
  if (
    phase.kind === 'stopped' &&
    w.state.trains.some((t, i) => t.activity.kind !== 'absent' && !stands(w, i))
  ) {
    return refusal('still-moving', 'Not every train is proven standing yet; wait a moment.');
  }
  const drive = phase.kind === 'line-up' ? driveBeingProven(w) : null;
  if (drive !== null) {
    const { id } = w.world.layout.elements[drive]!;
    return refusal('being-proven', `${id} is being proven; wait a moment.`);
  }
  if (w.state.dispatching.proven) return null;
  const outcome = w.state.dispatching.search?.outcome;
  if (outcome === 'doomed') {
    return refusal(
      'locked-up',
      'As the trains stand, they cannot all finish: no order of moves exists. Move or take off a train.',
    );
  }
  if (outcome === 'exhausted') {
    return refusal(
      'not-proven',
      'No order in which all trains finish was found within the search allowed. Move or take off a train.',
    );
  }
  return refusal(
    'searching',
    'An order in which every train finishes is still being looked for; try again in a moment.',
  );
}

function pause(w: Writer): Refusal | null {
  const session = w.session();
  if (session.phase.kind !== 'running')
    return refusal('not-running', 'The session is not running.');
  settleClock(session.clock, w.now);
  session.clock.running = false;
  session.phase = { kind: 'paused' };
  w.state.dispatching.due = true;
  return null;
}

function stopAll(w: Writer, by: string): Refusal | null {
  const { kind } = w.state.session.phase;
  if (kind === 'stopped') {
    w.send({ kind: 'stop-all' });
    return null;
  }
  if (kind === 'running' || kind === 'paused' || kind === 'ending')
    stopEverything(w, `asked by ${by}`);
  else w.send({ kind: 'stop-all' });
  return null;
}

function setRatio(w: Writer, ratio: number): Refusal | null {
  if (!(ratio >= 1 && ratio <= 60)) {
    return refusal('bad-ratio', 'The fast clock runs between 1 and 60 times real time.');
  }
  const { clock } = w.session();
  settleClock(clock, w.now);
  clock.ratio = ratio;
  w.state.dispatching.due = true;
  return null;
}

function endSession(w: Writer): Refusal | null {
  const session = w.session();
  const { kind } = session.phase;
  if (kind === 'ended') return refusal('ended', 'The session has ended already.');
  if (kind === 'running' || kind === 'paused') {
    settleClock(session.clock, w.now);
    session.clock.running = true;
    session.phase = { kind: 'ending' };
    w.state.dispatching.due = true;
    return null;
  }
  return refusal(
    'not-running',
    'Only a running session can be brought to its end; resume it first.',
  );
}

function giveBack(w: Writer, index: number): Refusal | null {
  const { activity, path } = w.state.trains[index]!;
  const { label } = w.world.stock.trains[index]!.file;
  if (activity.kind === 'absent' || path.length === 0) {
    return refusal('absent', `${label} is not on the layout.`);
  }
  return withdrawRoute(w, index);
}

/** A halted train may go on: it is somewhere between its last edge and the furthest it can have come. */
function release(w: Writer, index: number): Refusal | null {
  const train = w.state.trains[index]!;
  const { label } = w.world.stock.trains[index]!.file;
  if (train.activity.kind !== 'halted') return refusal('not-halted', `${label} is not halted.`);
  if (!stands(w, index))
    return refusal('still-moving', `${label} is not proven standing yet; wait a moment.`);
  if (train.identity.certainty === 'ambiguous') {
    return refusal(
      'identity',
      `It is not certain that this is ${label}; say where it stands first.`,
    );
  }
  const unproven = unprovenDrive(w, index);
  if (unproven !== null) {
    const { id } = w.world.layout.elements[unproven]!;
    return refusal('not-proven', `${id} on the way of ${label} is not proven; set it right first.`);
  }
  const behind = seenOnlyBehind(w, index);
  if (behind !== null) {
    const { id } = w.world.layout.sections[behind]!;
    return refusal(
      'seen-behind',
      `All that ${label} should stand on reads free, and section ${id} behind it is occupied; say where it stands first.`,
    );
  }
  const obstacle = findHeadFromEdge(w, index);
  if (obstacle !== null) {
    const { id } = w.world.layout.sections[obstacle]!;
    return refusal(
      'occupied-ahead',
      `Section ${id} on the way of ${label} is occupied; clear it first.`,
    );
  }
  clearHalt(w, index);
  w.follow({ kind: 'authority', train: index });
  w.follow({ kind: 'control', train: index });
  w.state.dispatching.due = true;
  return null;
}

/** The command as a phrase for the log. */
function phrase(w: Writer, command: Command): string {
  const words = command.kind.replaceAll('-', ' ');
  if (command.kind === 'take-in-hand') {
    const { label } = w.world.stock.trains[command.train]!.file;
    return `${command.take ? 'takes' : 'gives back'} ${label}${command.take ? ' in hand' : ' to the timetable'}`;
  }
  const wish = wishPhrase(w, command);
  if (wish !== null) return wish;
  if ('element' in command) {
    const reason = command.kind === 'close-track' ? ` (${command.reason.trim()})` : '';
    return `${words}: ${w.world.layout.elements[command.element]!.id}${reason}`;
  }
  if ('train' in command) {
    const { label } = w.world.stock.trains[command.train]!.file;
    const to =
      command.kind === 'set-route' ? ` to ${w.world.layout.elements[command.block]!.id}` : '';
    return `${words}: ${label}${to}`;
  }
  if ('block' in command) return `${words}: ${w.world.layout.elements[command.block]!.id}`;
  return words;
}

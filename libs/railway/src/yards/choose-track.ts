import { setDeadline } from '../session/deadlines.js';
import { raiseAlarm } from '../session/alarms.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { Seen, Writer } from '../session/writer.js';
import { canCome } from '../dispatching/follow-plan.js';
import type { Move } from '../dispatching/safety-problem.js';
import { blockOf } from '../layout/layout.js';
import { instantOf } from '../timetable/fast-clock.js';
import { berthsOf, restsAtEnd, yardTracks, type Berth } from './berths.js';
import { decideTrack, type RuleRef, type TrackDecision } from './decide-track.js';
import { comingTo, rulesOf, sceneOf, stopAhead, yardAhead } from './look-at-yard.js';
import { noteOverruled, notePut } from './note-choice.js';
import { sendElsewhere, type NotSent } from './overflow.js';
import { ruleNames, ruleSentence } from './rule-words.js';
import type { YardRulesFile } from './staging-rules-file.js';
import type { ClosedOverflow } from './staging-state.js';
import type { ComingTrain } from './yard-scene.js';
import { forgetWait, yardAlarm } from './yard-wait.js';

/** How long a train waits for what a rule offers first, when only others are passing there, physical ms. */
const PATIENCE = 20_000;
const MINUTE = 60_000;

/** Takes a move, or says why it can't be had now. */
type TryMove = (w: Writer, index: number, move: Move) => WaitReason | null;

/** What a train was told about the track that it is to take. */
export type YardOutcome =
  /** Nothing is to be chosen here: no yard, no rules, or all ways still lead to the same tracks. */
  'nothing-to-choose' | WaitReason | null;

interface Asked {
  readonly station: number;
  readonly train: ComingTrain;
  /** By move: the berths to which it leads. */
  readonly ways: readonly { readonly move: Move; readonly berths: readonly Berth[] }[];
}

/**
 * Lets a train that is about to run into a staging yard take the track that the rules choose; null: it was granted a way
 * there. Every way is granted by the same rules of safety as without rules.
 */
export function chooseTrack(w: Writer, index: number, tryMove: TryMove): YardOutcome {
  const station = yardAhead(w, index);
  if (station < 0) {
    forgetWait(w, index);
    return 'nothing-to-choose';
  }
  const rules = rulesOf(w, station);
  if (rules === null) return 'nothing-to-choose';
  if (isInTrack(w, station, index))
    return rules.moveUp === 'never' ? stopShort(w, index, tryMove) : 'nothing-to-choose';
  const asked = askedOf(w, station, index);
  return asked === null ? 'nothing-to-choose' : byRules(w, index, rules, asked, tryMove);
}

/** Whether the way of a train reaches into its track, in which it can only draw up. */
function isInTrack({ world, state }: Seen, station: number, index: number): boolean {
  const graph = world.graphs[index]!;
  const { leg, heading } = graph.placeOf(state.trains[index]!.node);
  const block = blockOf(heading);
  return (
    graph.isTarget(leg, heading) &&
    world.layout.stations[station]!.tracks.some(({ blocks }) => blocks.includes(block))
  );
}

/** Has a train end its way in the first slot in which it fits; it goes on only where the trains could else not all finish. */
function stopShort(w: Writer, index: number, tryMove: TryMove): YardOutcome {
  const graph = w.world.graphs[index]!;
  const { node } = w.state.trains[index]!;
  const end = graph.moves(node).find(({ to }) => graph.meaningOf(node, to).route === null);
  const reason = end === undefined ? { kind: 'no-way' as const } : tryMove(w, index, end);
  switch (reason?.kind) {
    case 'no-way':
    case 'would-lock':
    case 'search-exhausted':
      return 'nothing-to-choose';
    default:
      return reason;
  }
}

/** What there is to choose from where a train's way ends; null when its next move leaves all of it open. */
function askedOf(w: Writer, station: number, index: number): Asked | null {
  const train = comingTo(w, station, index);
  const graph = w.world.graphs[index]!;
  const { node } = w.state.trains[index]!;
  const { leg } = graph.placeOf(node);
  const tracks = yardTracks(w.world.layout, station);
  const stock = w.world.stock.trains[index]!;
  const ways = graph.moves(node).map((move) => ({
    move,
    berths: berthsOf(
      w.world.layout,
      stock,
      graph,
      leg + 1,
      tracks,
      restsAtEnd(graph, [move.to], leg + 1),
    ),
  }));
  const isOpen = ways.every(({ move, berths }) => {
    const entered = graph.placeOf(move.to).heading;
    return berths.length === train.berths.length && !tracks.some(({ ends }) => ends.has(entered));
  });
  return isOpen ? null : { station, train, ways };
}

function byRules(
  w: Writer,
  index: number,
  rules: YardRulesFile,
  { station, train, ways }: Asked,
  tryMove: TryMove,
): WaitReason | null {
  const scene = sceneOf(w, station, index);
  const stop = stopAhead(w, index);
  const wait = w.state.staging.waits[index] ?? null;
  const since = wait?.since ?? null;
  const closed = wait === null ? [] : wait.closed.filter(({ until }) => until > w.now);
  let left = train.berths;
  let first: WaitReason | null = null;
  for (;;) {
    const decision = decideTrack(
      rules,
      scene,
      { ...train, berths: left },
      since === null ? null : scene.fast - since,
      closed.map(({ place }) => place),
    );
    if (decision.kind !== 'take') {
      // What the rules offered is there, but can't be had: that is what it waits for.
      if (first !== null) return first;
      if (decision.kind !== 'overflow')
        return waitOutside(w, index, station, decision, { since: since ?? scene.fast, closed });
      const notSent = overflow(w, index, rules, train, decision);
      if (notSent === null) return { kind: 'searching' };
      closed.push({ place: decision.rule.place, ...notSent });
      continue;
    }
    const tried = new Set<Berth>();
    for (const { rule, berths } of decision.offers) {
      let passing: WaitReason | null = null;
      for (const berth of berths) {
        for (const { move } of ways.filter((it) => it.berths.some((other) => same(other, berth)))) {
          const reason = tryMove(w, index, move);
          if (reason === null) {
            const why = whyPut(w, rules, rule, first !== null);
            notePut(w, index, { station, stop, track: berth.track, why });
            return null;
          }
          if (reason.kind === 'searching') return reason;
          first ??= reason;
          if (passesByItself(w, reason)) passing ??= reason;
        }
        tried.add(berth);
      }
      if (passing !== null && waitsForOffer(w, index)) return passing;
    }
    left = left.filter((berth) => !tried.has(berth));
    if (left.length === 0) return first;
  }
}

/** Sends the train to the yard that a rule names; it is asked anew at once, for its way is another. */
function overflow(
  w: Writer,
  index: number,
  rules: YardRulesFile,
  train: ComingTrain,
  { to, rule }: TrackDecision & { readonly kind: 'overflow' },
): NotSent | null {
  const station = w.world.layout.stations.findIndex(({ file }) => file.id === to);
  const notSent = sendElsewhere(w, index, train, station, whyPut(w, rules, rule, false));
  if (notSent === null) w.state.dispatching.due = true;
  return notSent;
}

const same = (one: Berth, other: Berth): boolean =>
  one.track === other.track && one.in === other.in && one.out === other.out;

function passesByItself(w: Writer, reason: WaitReason): boolean {
  return (
    (reason.kind === 'element-held' || reason.kind === 'section-claimed') &&
    canCome(w.state.trains[reason.by]!)
  );
}

/** Whether a train still waits for a track that a rule offers before it looks at the next rule. The moment to ask again is arranged. */
function waitsForOffer(w: Writer, index: number): boolean {
  const { waits } = w.state.staging;
  const from = waits[index]?.refusedSince ?? w.now;
  const { since = null, closed = [] } = waits[index] ?? {};
  waits[index] = { since, refusedSince: from, closed };
  if (w.now >= from + PATIENCE) return false;
  setDeadline(w.state, 'plan', index, from + PATIENCE);
  return true;
}

/** No rule finds a track: the train waits where it is, and a person is told when it is theirs to say which. */
function waitOutside(
  w: Writer,
  index: number,
  station: number,
  decision: { readonly kind: 'hold'; readonly minutes: number } | { readonly kind: 'ask' },
  { since, closed }: { readonly since: number; readonly closed: readonly ClosedOverflow[] },
): WaitReason {
  w.state.staging.waits[index] = { since, refusedSince: null, closed };
  if (decision.kind === 'hold') {
    const until = since + decision.minutes * MINUTE;
    const at = instantOf(w.state.session.clock, until);
    if (at !== null) setDeadline(w.state, 'plan', index, Math.max(at, w.now + 1));
    return { kind: 'yard-full', station, until };
  }
  const { label } = w.world.stock.trains[index]!.file;
  const { name } = w.world.layout.stations[station]!.file;
  raiseAlarm(
    w,
    yardAlarm(index),
    [
      `The rules of ${name} find no track for ${label}; it waits outside.`,
      ...closed.map(({ why }) => why),
    ].join(' '),
    'Choose a track for it, or have a train leave the yard.',
  );
  return { kind: 'yard-full', station, until: null };
}

/** A person chose the track of the yard that a train comes to: the rules say nothing of it. */
export function overrule(w: Writer, index: number): void {
  const station = yardAhead(w, index);
  if (station < 0) return;
  forgetWait(w, index);
  noteOverruled(w, index, station, stopAhead(w, index));
}

function whyPut(w: Writer, rules: YardRulesFile, rule: RuleRef, others: boolean): string {
  const { layout, stock } = w.world;
  const said = ruleSentence(rules, rule, ruleNames(layout.file, stock.file, rules.yard));
  return others ? `${said} What comes first by the rules could not be had.` : said;
}

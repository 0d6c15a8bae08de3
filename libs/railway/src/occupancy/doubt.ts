import { piecesOf } from '../interlocking/held-path.js';
import { blockOf, type Heading } from '../layout/layout.js';
import { stands } from '../movement/standing.js';
import { clearAlarm } from '../session/alarms.js';
import { exchangePlaces } from '../session/placing.js';
import type { Doubt } from '../session/state.js';
import type { Seen, Writer } from '../session/writer.js';
import { assignmentsOf } from './assignments.js';

/** Most assignments kept for one doubt; beyond it only what a person says of each train counts. */
export const MOST_ASSIGNMENTS = 64;
/** Named faults (misreadings) an assignment may need to explain the evidence, before it is ruled out. */
const FAULTS_ALLOWED = 1;
/**
 * So many more for the one in which every train stands where it was believed: trains that changed places unseen did so by a fault
 * as well.
 */
const FAULTS_OF_AN_EXCHANGE = 1;

/**
 * Puts trains in doubt together: any of them may stand at the place of any other that it fits. A doubt that shares a train
 * with an earlier one grows to include it, with all that was read and said; doubts that share none are never multiplied
 * with each other.
 */
export function openDoubt(w: Writer, trains: readonly number[], evidence: string): void {
  const touching = w.state.doubts.filter((doubt) => doubt.trains.some((t) => trains.includes(t)));
  const together = [...new Set([...touching.flatMap((doubt) => doubt.trains), ...trains])];
  together.sort((a, b) => a - b);
  if (together.length < 2) return;
  if (touching.length === 1 && touching[0]!.trains.length === together.length) return;
  const doubt: Doubt = {
    trains: together,
    places: together.map((train) => placeBefore(touching, train) ?? headBlock(w, train)),
    assignments: [],
    reads: [...touching.flatMap(({ reads }) => reads), ...weighed(w, touching, together)],
    said: touching.flatMap(({ said }) => said),
    evidence,
    since: w.now,
  };
  weigh(w, doubt);
  w.state.doubts = [...w.state.doubts.filter((each) => !touching.includes(each)), doubt];
  for (const train of together) w.train(train);
  w.changes.lineUp = true;
}

/** What was read of the trains before the doubt: it led to it, or did not keep it away, and counts no more. */
function weighed(w: Writer, touching: readonly Doubt[], trains: readonly number[]): Doubt['reads'] {
  const known = (train: number, section: number): boolean =>
    touching.some(({ reads }) => reads.some((r) => r.train === train && r.section === section));
  // Only sections on somebody's way are listened to.
  const onWays = w.state.trains.flatMap(({ path }) => piecesOf(w.world.layout, path));
  const sections = [...new Set(onWays.map(({ section }) => section))].filter((it) => it >= 0);
  return sections
    .sort((a, b) => a - b)
    .flatMap((section) =>
      w.state.sections[section]!.heard.filter(
        ({ train }) => trains.includes(train) && !known(train, section),
      ).map(({ train }) => ({ train, section, times: 0, goes: true })),
    );
}

/** The block, or else the element, that a section is in. */
const placeOf = (w: Writer, section: number): number =>
  w.world.layout.sections[section]!.elements[0]!;

const placeBefore = (doubts: readonly Doubt[], train: number): Heading | undefined =>
  doubts.flatMap(({ trains, places }) => places[trains.indexOf(train)] ?? [])[0];

/** The block the head of a train is believed in, as a heading. */
function headBlock(w: Writer, train: number): Heading {
  const { path, edge } = w.state.trains[train]!;
  const reached = path.findLast(({ heading, start }) => heading >= 0 && start <= edge);
  return (reached ?? path.find(({ heading }) => heading >= 0)!).heading;
}

/** Whether a place of a doubt is in an element: its block, or anything else held for the train believed there. */
function isIn(w: Writer, doubt: Doubt, place: number, element: number): boolean {
  if (blockOf(doubt.places[place]!) === element) return true;
  return w.state.trains[doubt.trains[place]!]!.path.some((item) => item.element === element);
}

/** Finds the assignments that all the evidence allows; none are kept when they are too many. */
function weigh(w: Writer, doubt: Doubt): void {
  for (const train of doubt.trains) w.train(train);
  const { trains, reads, said } = doubt;
  const allowed = (at: number, place: number): boolean => {
    const train = trains[at]!;
    if (place !== at && !isTaken(w, trains[place]!)) return false;
    const word = said.find((each) => each.train === train);
    return word === undefined ? fits(w, doubt, train, place) : isIn(w, doubt, place, word.block);
  };
  const ways = assignmentsOf(trains.length, allowed, MOST_ASSIGNMENTS) ?? [];
  doubt.assignments = ways
    .map((way) => ({
      places: way,
      faults: reads
        .filter(
          ({ train, section }) => !isIn(w, doubt, way[trains.indexOf(train)]!, placeOf(w, section)),
        )
        .reduce((sum, { times }) => sum + times, 0),
    }))
    .filter(({ places, faults }) => {
      const stays = places.every((place, at) => place === at);
      return faults <= FAULTS_ALLOWED + (stays ? FAULTS_OF_AN_EXCHANGE : 0);
    });
}

/** Whether anything is detected where a train is believed: a place that reads clear can be no other train's. */
function isTaken(w: Writer, train: number): boolean {
  const pieces = piecesOf(w.world.layout, w.state.trains[train]!.path);
  const detected = pieces.filter(({ section }) => section >= 0);
  return (
    detected.length === 0 ||
    detected.some(({ section }) => w.state.sections[section]!.belief !== 'clear')
  );
}

/** Whether a train can stand at a place of a doubt: at its own, though it be longer than its block, or on a held way of its length. */
function fits(w: Writer, doubt: Doubt, train: number, place: number): boolean {
  const there = doubt.trains[place]!;
  const { path } = w.state.trains[there]!;
  const room = path.at(-1)!.end - path[0]!.start;
  return there === train || w.world.stock.trains[train]!.length <= room;
}

/**
 * A decoder answered in a section: every assignment that has its train elsewhere needs one more misreading. A detector
 * that repeats itself counts once, until it has read free.
 */
export function reportSpeaks(w: Writer, train: number, section: number): void {
  const doubt = doubtOf(w, train);
  if (doubt === undefined) return;
  const read = doubt.reads.find((each) => each.train === train && each.section === section);
  if (read === undefined) doubt.reads.push({ train, section, times: 1, goes: true });
  else if (!read.goes) {
    read.times = Math.min(read.times + 1, FAULTS_ALLOWED + FAULTS_OF_AN_EXCHANGE + 1);
    read.goes = true;
  }
  weigh(w, doubt);
  settleDoubt(w, doubt, 'reported');
}

/**
 * A person says where a train of a doubt stands; the newest word about a train is the one that counts. Returns whether
 * that place is among its possibilities.
 */
export function personSpeaks(w: Writer, by: string, train: number, block: number): boolean {
  const doubt = doubtOf(w, train);
  if (doubt === undefined) return false;
  const before = doubt.said;
  doubt.said = [...before.filter((word) => word.train !== train), { train, block, by }];
  weigh(w, doubt);
  if (!isPossible(w, doubt, train, block)) {
    doubt.said = before;
    weigh(w, doubt);
    return false;
  }
  w.changes.lineUp = true;
  settleDoubt(w, doubt, 'declared');
  return true;
}

/** Where too many assignments are possible to keep, any place of the doubt is that fits and nobody else was seen at. */
function isPossible(w: Writer, doubt: Doubt, train: number, block: number): boolean {
  if (doubt.assignments.length > 0) return true;
  const place = doubt.places.findIndex((_, each) => isIn(w, doubt, each, block));
  if (place < 0 || !fits(w, doubt, train, place)) return false;
  return !doubt.said.some((word) => word.train !== train && isIn(w, doubt, place, word.block));
}

/** A train of a doubt stands now: what waited for that is settled. */
export function settleStanding(w: Writer, train: number): void {
  const doubt = doubtOf(w, train);
  if (doubt !== undefined) settleDoubt(w, doubt, doubt.said.length > 0 ? 'declared' : 'reported');
}

/**
 * When one assignment is left, it is how the trains stand; those that changed places are put where they are. That frees
 * what they held, so it waits until each of these is proven standing.
 */
function settleDoubt(w: Writer, doubt: Doubt, by: 'reported' | 'declared'): void {
  const [only, ...more] = doubt.assignments;
  if (only === undefined || more.length > 0) return;
  if (doubt.trains.some((train, at) => only.places[at] !== at && !stands(w, train))) return;
  forgetDoubt(w, doubt.trains[0]!);
  for (const train of doubt.trains) clearAlarm(w, `identity:${train}`);
  const inferred =
    by === 'reported'
      ? 'No other assignment of trains to places explains what the decoders answered.'
      : 'No other assignment of trains to places is left after what a person saw.';
  exchangePlaces(
    w,
    doubt.trains.map((train, at) => {
      const word = doubt.said.find((each) => each.train === train);
      return {
        train,
        heading: only.places[at] === at ? null : doubt.places[only.places[at]!]!,
        certainty: word === undefined ? 'inferred' : 'declared',
        evidence: word === undefined ? inferred : `${word.by} saw it there.`,
      };
    }),
  );
}

export const doubtOf = (seen: Pick<Seen, 'state'>, train: number): Doubt | undefined =>
  seen.state.doubts.find(({ trains }) => trains.includes(train));

/** Whether a train is in doubt and a block is where it was believed to stand before. */
export function isOwnPlace(w: Writer, train: number, block: number): boolean {
  const doubt = doubtOf(w, train);
  return doubt !== undefined && isIn(w, doubt, doubt.trains.indexOf(train), block);
}

/** Ends a doubt that a train is part of, without an answer: its trains must be told apart one by one. */
export function forgetDoubt(w: Writer, train: number): void {
  w.state.doubts = w.state.doubts.filter(({ trains }) => !trains.includes(train));
  w.changes.lineUp = true;
}

/** A train was found where it is believed: it leaves its doubt, and nobody else of it can stand there. */
export function leaveDoubt(w: Writer, train: number): void {
  const doubt = doubtOf(w, train);
  if (doubt === undefined) return;
  const at = doubt.trains.indexOf(train);
  const isOther = (other: number, element: number): boolean =>
    other !== train && !isIn(w, doubt, at, element);
  doubt.reads = doubt.reads.filter((it) => isOther(it.train, placeOf(w, it.section)));
  doubt.said = doubt.said.filter((it) => isOther(it.train, it.block));
  doubt.trains.splice(at, 1);
  doubt.places.splice(at, 1);
  if (doubt.trains.length < 2) return forgetDoubt(w, doubt.trains[0]!);
  weigh(w, doubt);
}

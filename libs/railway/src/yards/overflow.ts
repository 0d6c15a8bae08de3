import { putInForce } from '../dispatching/added/put-in-force.js';
import { renumber } from '../dispatching/added/renumber.js';
import { isCancelled } from '../dispatching/wishes/cancelled.js';
import type { Writer } from '../session/writer.js';
import type { AddedWork } from '../timetable/added-work.js';
import type { CallRef } from '../timetable/working-stops.js';
import { berthsOf, restsAtEnd, yardTracks } from './berths.js';
import { callsOfStay, connectsAt } from './calls-of-stay.js';
import { decideTrack, type ArrivalsOfYard } from './decide-track.js';
import { rulesOf, sceneOf, stopAhead } from './look-at-yard.js';
import type { ComingTrain } from './yard-scene.js';
import { forgetWait } from './yard-wait.js';

/** How long an overflow that can't be had is not tried again, physical ms. */
const TRIED_AGAIN = 60_000;

/** Why a train was not sent to another yard; not tried again before `until`, physical ms. */
export interface NotSent {
  readonly why: string;
  readonly until: number;
}

/** How a yard without rules is looked at: any track with room. */
const ANY_TRACK: ArrivalsOfYard = { arrivals: [{ order: [] }], nothingFits: [] };

/**
 * Sends a train that comes to a yard to another one, where it stops instead and from where its next service begins; null: it is on its way.
 * Only where a track is free for it there now, where its work can be ended from there, and where all trains can then still finish.
 * @param train as it was to come to the first yard
 * @param to index of the other yard among the stations
 * @param said why, a whole sentence
 */
export function sendElsewhere(
  w: Writer,
  index: number,
  train: ComingTrain,
  to: number,
  said: string,
): NotSent | null {
  const { layout, stock, timetable } = w.world;
  const { name } = layout.stations[to]!.file;
  const { label } = stock.trains[index]!.file;
  const calls = callsAhead(w, index);
  const [first] = calls;
  if (first === undefined) return { why: `${label} ends its work here.`, until: w.now };
  const { station: from } = timetable.services[first.service]!.calls[first.call]!;
  const kept = whyKept(w, index, calls, from);
  if (kept !== null) return { why: kept, until: w.now + TRIED_AGAIN };
  const { added } = w.state;
  const changed = {
    services: added.services,
    workings: withoutCancelled(w, index),
    elsewhere: [
      ...added.elsewhere,
      ...calls.map((ref) => ({ train: index, ...ref, station: to, why: said })),
    ],
  };
  if (!hasTrack(w, index, train, to, changed, first))
    return { why: `${name} has no track for it now.`, until: w.now };
  const refused = putInForce(w, index, changed, {
    noWay: `No permitted way leads ${label} to ${name} and from there on with its work.`,
    condition: `With ${label} at ${name}`,
  });
  if (refused !== null) return { why: refused.text, until: w.now + TRIED_AGAIN };
  forgetWait(w, index);
  w.log(`${label} goes to ${name} instead of ${layout.stations[from]!.file.name}; ${said}`, index);
  return null;
}

/** The calls that the train is to make in the yard before it; none where the service that takes it there is cancelled. */
function callsAhead(w: Writer, index: number): CallRef[] {
  const [first, ...others] = callsOfStay(w.world, index, stopAhead(w, index));
  if (first === undefined || isCancelled(w, first.service)) return [];
  return [first, ...others.filter(({ service }) => !isCancelled(w, service))];
}

/** Why a train may not be sent on from the yard, whatever the other has. */
function whyKept(
  { world, state }: Writer,
  index: number,
  calls: readonly CallRef[],
  station: number,
): string | null {
  const { label } = world.stock.trains[index]!.file;
  if (state.added.elsewhere.some(({ service, call }) => isSame(calls, { service, call })))
    return `${label} was sent here from another yard, and is sent on to none.`;
  return connectsAt(world, calls, station) ? `${label} connects with another service here.` : null;
}

/** Whether a call is one of some. */
const isSame = (calls: readonly CallRef[], { service, call }: CallRef): boolean =>
  calls.some((it) => it.service === service && it.call === call);

/** The trains' services as they are in force, those of this one without what is cancelled: that is left out for good. */
function withoutCancelled(w: Writer, index: number): AddedWork['workings'] {
  const { workings } = w.state.added;
  const services = w.world.timetable.workings[index]!.services;
  const left = services.filter((it) => !isCancelled(w, it));
  if (left.length === services.length) return workings;
  return [...workings.filter(({ train }) => train !== index), { train: index, services: left }];
}

/** Whether the other yard has a track for the train now: by its rules where it has some. */
function hasTrack(
  w: Writer,
  index: number,
  train: ComingTrain,
  to: number,
  changed: Omit<AddedWork, 'edition'>,
  call: CallRef,
): boolean {
  const { layout, stock, book, graphs } = w.world;
  const scene = sceneOf(w, to, index);
  if (!scene.tracks.some(({ slots }) => slots.includes(null))) return false;
  const added = { ...changed, edition: w.state.added.edition + 1 };
  const graph = book.with(added).graphs[index]!;
  const { node } = renumber(w.state.trains[index]!, graphs[index]!, graph);
  const stop = graph.stops.findIndex(({ calls }) => isSame(calls, call));
  const berths = berthsOf(
    layout,
    stock.trains[index]!,
    graph,
    stop,
    yardTracks(layout, to),
    restsAtEnd(graph, [node], stop),
  );
  const isLost = graph.distance(node) === Infinity;
  book.forget(added);
  // Where no way leads there at all, that is what is to be said of it.
  if (isLost) return true;
  const rules = rulesOf(w, to) ?? ANY_TRACK;
  const coming = { ...train, visit: stop, berths };
  return decideTrack(rules, scene, coming, null).kind === 'take';
}

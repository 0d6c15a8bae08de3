import { blockOf } from '../../layout/layout.js';
import { refusal, type Refusal } from '../../session/refusal.js';
import type { Seen, Writer } from '../../session/writer.js';
import { beginService } from '../../waiting/keep-delays.js';
import { orderFrom } from '../by-hand.js';
import { leavePlan } from '../follow-plan.js';
import { adoptOrder } from '../order.js';
import { thereAlready } from '../there-already.js';
import { GONE } from './wish.js';
import type { Cancellation } from './wish.js';

/**
 * A dispatcher cancels services of a train, from one to another that it runs later or the same. The train leaves them out when it
 * stands where the first begins, now or once it has come there, and goes on with its work from there as booked; where nothing
 * is left, its work ends there. Refused where it would not be where its work goes on, or where with it there the trains could not all finish.
 */
export function cancelServices(
  w: Writer,
  index: number,
  from: number,
  through: number,
): Refusal | null {
  const train = w.state.trains[index]!;
  const label = labelOf(w, index);
  const work = w.world.timetable.workings[index]?.services ?? [];
  const [begin, end] = [work.indexOf(from), work.indexOf(through)];
  if (begin < 0 || end < begin) {
    return refusal('no-such-service', `${label} runs no such services in this order.`);
  }
  if (train.activity.kind === 'absent') return refusal('absent', `${label} is not on the layout.`);
  const services = work.slice(begin, end + 1);
  const { cancellations } = w.state.dispatching.wishes;
  if (cancellations.some((it) => it.services.some((service) => services.includes(service)))) {
    return refusal('cancelled', 'At least one of these services is cancelled already.');
  }
  const cancellation = cancellationOf(w, index, services, work[end + 1] ?? null);
  if (cancellation === null) {
    return refusal(
      'not-at-call',
      `${label} can’t leave out ${nameOf(w, from)}: it is not the first call of the service where it begins.`,
    );
  }
  const { leg } = cancellation;
  if (hasLeft(w, index, leg)) {
    return refusal('too-late', `${label} runs ${nameOf(w, from)} already, or has its way for it.`);
  }
  const apart = whyApart(w, cancellation, work[end + 1] ?? null);
  if (apart !== null) return apart;
  if (standsAt(w, cancellation.train, cancellation.leg)) {
    const refused = leaveOut(w, cancellation);
    if (refused !== null) return refused;
  }
  cancellations.push(cancellation);
  // In the order in which trains come to them: what is left out may bring a train to the next.
  cancellations.sort((a, b) => a.train - b.train || a.leg - b.leg);
  w.train(index);
  w.state.dispatching.due = true;
  return null;
}

/** The legs that are left out: from where the first service begins to where the next one does, or to the end of the work. */
function cancellationOf(
  w: Writer,
  train: number,
  services: readonly number[],
  next: number | null,
): Cancellation | null {
  const { stops, legCount } = w.world.graphs[train]!;
  const beginOf = (service: number): number =>
    stops.findIndex(({ calls }) => calls.some((it) => it.service === service && it.call === 0));
  const leg = beginOf(services[0]!);
  const to = next === null ? legCount : beginOf(next);
  return leg < 0 || to <= leg ? null : { train, services, leg, to, done: false };
}

/** The next service must begin where the first one left out does. */
function whyApart(
  w: Writer,
  { train, services, leg }: Cancellation,
  next: number | null,
): Refusal | null {
  if (next === null) return null;
  const stationOf = (service: number): number =>
    w.world.timetable.services[service]!.calls[0]!.station;
  const nameAt = (station: number): string => w.world.layout.stations[station]!.file.name;
  const here = stationOf(services[0]!);
  const there = stationOf(next);
  const label = labelOf(w, train);
  if (here !== there) {
    return refusal(
      'apart',
      `${label} would be at ${nameAt(here)}, and its next service ${nameOf(w, next)} begins at ${nameAt(there)}. ` +
        'Cancel up to a service that ends where the first one begins.',
    );
  }
  if (!standsAt(w, train, leg)) return null;
  const { heading } = w.world.graphs[train]!.placeOf(w.state.trains[train]!.node);
  return mayBeginAt(w, next, heading)
    ? null
    : refusal(
        'other-track',
        `${label} stands in a track of ${nameAt(here)} from which ${nameOf(w, next)} does not run.`,
      );
}

const mayBeginAt = (w: Writer, service: number, heading: number): boolean =>
  w.world.timetable.services[service]!.calls[0]!.tracks.some(({ blocks }) =>
    blocks.includes(blockOf(heading)),
  );

/** Whether the train has left the stop where a leg begins. */
function hasLeft({ state }: Writer, index: number, leg: number): boolean {
  const train = state.trains[index]!;
  return train.leg > leg || (train.leg === leg && train.arrivedAt === null);
}

/** Whether the train has come to the stop where a leg begins, and has no way beyond. */
function standsAt({ world, state }: Writer, index: number, leg: number): boolean {
  const { leg: present, node, arrivedAt, activity } = state.trains[index]!;
  const isThere = present === leg && world.graphs[index]!.placeOf(node).leg === leg;
  return isThere && arrivedAt !== null && activity.kind === 'standing';
}

/**
 * Services that were cancelled are run after all: all that were cancelled with the one named, as long as the train has not left
 * them out, or still stands where it did and could run them from there with all others finishing.
 */
export function restoreServices(w: Writer, index: number, service: number): Refusal | null {
  const { wishes } = w.state.dispatching;
  const cancellation = wishes.cancellations.find(
    ({ train, services }) => train === index && services.includes(service),
  );
  if (cancellation === undefined) {
    return refusal('not-cancelled', `No such service of ${labelOf(w, index)} is cancelled.`);
  }
  const { leg, to, done } = cancellation;
  if (leg === GONE) {
    return refusal(
      'too-late',
      `${nameOf(w, service)} was left out for good when another service was added. Add it anew instead.`,
    );
  }
  if (done) {
    if (!standsAt(w, index, to)) {
      const text = `${labelOf(w, index)} has gone on with its work behind what was cancelled.`;
      return refusal('too-late', text);
    }
    const refused = goOnWith(w, index, leg);
    if (refused !== null) return refused;
  }
  wishes.cancellations = wishes.cancellations.filter((it) => it !== cancellation);
  w.train(index);
  w.state.dispatching.due = true;
  return null;
}

/** The train's work goes on behind what is cancelled; or why it can't. */
function leaveOut(w: Writer, cancellation: Cancellation): Refusal | null {
  const refused = goOnWith(w, cancellation.train, cancellation.to);
  if (refused === null) cancellation.done = true;
  return refused;
}

/** A train that stands at a stop goes on with another leg of its work that begins there; or why it can't. */
function goOnWith(w: Writer, index: number, leg: number): Refusal | null {
  const graph = w.world.graphs[index]!;
  const before = graph.placeOf(w.state.trains[index]!.node);
  const node = graph.nodeFor({ ...before, leg, atStop: true });
  const order =
    thereAlready(w, index, { leg, node }, 'Cancel what it would do next as well.') ??
    orderFrom(w, index, node);
  if ('code' in order) return order;
  const train = w.train(index);
  train.leg = leg;
  train.node = node;
  train.nodes = [node];
  leavePlan(w, index);
  adoptOrder(w, order);
  beginService(w, index);
  return null;
}

/** Trains that have come to where a cancelled service begins leave it out; what can't be done then is dropped, and it is said. */
export function settleCancellations(w: Writer): void {
  const { wishes } = w.state.dispatching;
  for (const cancellation of wishes.cancellations) {
    const { train: index, leg, services, done } = cancellation;
    if (done || !standsAt(w, index, leg)) {
      if (!done && hasLeft(w, index, leg)) drop(w, cancellation, 'it has left already');
      continue;
    }
    const work = w.world.timetable.workings[index]!.services;
    const next = work[work.indexOf(services.at(-1)!) + 1] ?? null;
    const refused = whyApart(w, cancellation, next) ?? leaveOut(w, cancellation);
    if (refused !== null) drop(w, cancellation, refused.text);
    else w.log(`${labelOf(w, index)} leaves out ${listOf(w, services)}.`, index);
  }
}

function drop(w: Writer, cancellation: Cancellation, why: string): void {
  const { wishes } = w.state.dispatching;
  const { train, services } = cancellation;
  wishes.cancellations = wishes.cancellations.filter((it) => it !== cancellation);
  w.train(train);
  w.log(`${listOf(w, services)} runs after all: ${why}`, train);
}

const labelOf = ({ world }: Seen, train: number): string => world.stock.trains[train]!.file.label;
const nameOf = ({ world }: Seen, service: number): string =>
  world.timetable.services[service]!.file.name;
const listOf = (w: Writer, services: readonly number[]): string =>
  services.map((service) => nameOf(w, service)).join(', ');

import { refusal, type Refusal } from '../../session/refusal.js';
import type { WaitReason } from '../../session/wait-reason.js';
import type { Seen, Writer } from '../../session/writer.js';
import type { Move } from '../safety-problem.js';
import type { FirstWish } from './wish.js';

/** Places of a train's work looked at, and how many legs beyond the one it is on. */
const REACH = 300;
const LEGS_AHEAD = 1;

/** A dispatcher lets one train go before another over the next track that both will need, or takes that back. */
export function letGoFirst(
  w: Writer,
  first: number,
  second: number,
  isFirst: boolean,
): Refusal | null {
  const { wishes } = w.state.dispatching;
  const present = wishes.firsts.find((it) => it.first === first && it.second === second);
  const [one, other] = [labelOf(w, first), labelOf(w, second)];
  if (!isFirst) {
    if (present === undefined) {
      return refusal('no-wish', `Nobody asked that ${one} goes before ${other}.`);
    }
    forget(w, present);
    return null;
  }
  if (present !== undefined) {
    return refusal('wished', `${one} goes before ${other} already, as it was asked.`);
  }
  if (first === second) return refusal('same-train', `${one} can’t go before itself.`);
  for (const train of [first, second]) {
    const why = whyNot(w, train);
    if (why !== null) return refusal('cannot-come', `${labelOf(w, train)} ${why}.`);
  }
  const shared = sharedTrack(w, first, second);
  if (shared === null) {
    const text = `${one} and ${other} need no track together on the way to the call after next.`;
    return refusal('nothing-shared', text);
  }
  const opposite = wishes.firsts.find((it) => it.first === second && it.second === first);
  const others = wishes.firsts.filter((it) => it !== opposite);
  if (waitsFor(others, first, second)) {
    const text = `${one} is to wait for ${other}, by what was asked for others between them; take one of that back first.`;
    return refusal('circle', text);
  }
  if (opposite !== undefined) forget(w, opposite);
  wishes.firsts.push({ first, second, ...shared, taken: [] });
  for (const train of [first, second]) w.train(train);
  w.state.dispatching.due = true;
  return null;
}

/** Whether by wishes one train is to wait for another, be it for others between them. */
function waitsFor(wishes: readonly FirstWish[], train: number, other: number): boolean {
  const before = new Set([train]);
  for (const each of before)
    for (const { first, second } of wishes) if (second === each) before.add(first);
  return before.has(other);
}

/**
 * The track to be waited for: on the first train's best way all that the second may come over, too, from its first element to
 * the end of the leg or to where their ways part.
 */
function sharedTrack(
  { world, state }: Writer,
  first: number,
  second: number,
): Pick<FirstWish, 'leg' | 'elements'> | null {
  const others = elementsAhead({ world, state }, second);
  const graph = world.graphs[first]!;
  const elements: number[] = [];
  let { node } = state.trains[first]!;
  const last = graph.placeOf(node).leg + LEGS_AHEAD;
  let found = -1;
  for (let moves = 0; moves < REACH; moves++) {
    const { leg } = graph.placeOf(node);
    const [move] = graph.moves(node);
    if (move === undefined || leg > last || (found >= 0 && leg > found)) break;
    const { route } = graph.meaningOf(node, move.to);
    for (const { element } of route === null ? [] : world.layout.routes[route]!.steps) {
      const isShared = others.has(element) && state.elements[element]!.holder !== second;
      if (isShared) {
        elements.push(element);
        found = leg;
      } else if (found >= 0) return { leg: found, elements };
    }
    node = move.to;
  }
  return found < 0 ? null : { leg: found, elements };
}

/** Every element that a train may come over on its present leg and the next. */
function elementsAhead({ world, state }: Seen, index: number): Set<number> {
  const graph = world.graphs[index]!;
  const { node: start } = state.trains[index]!;
  const last = graph.placeOf(start).leg + LEGS_AHEAD;
  const found = new Set<number>();
  const nodes = new Set([start]);
  for (const node of nodes) {
    if (nodes.size > REACH || graph.placeOf(node).leg > last) continue;
    for (const { to } of graph.moves(node)) {
      const { route } = graph.meaningOf(node, to);
      for (const { element } of route === null ? [] : world.layout.routes[route]!.steps)
        found.add(element);
      nodes.add(to);
    }
  }
  return found;
}

/** The train that is to go first over what a move needs; null: none. While a train has waited too long, no wish counts. */
export function firstWait(w: Writer, index: number, { needs }: Move): WaitReason | null {
  const { wishes, starving } = w.state.dispatching;
  if (starving >= 0) return null;
  const wish = wishes.firsts.find(
    ({ second, elements }) => second === index && elements.some((it) => needs.includes(it)),
  );
  return wish === undefined ? null : { kind: 'order-given', to: wish.first };
}

/** Whether a dispatcher asked that a train goes before another. */
export const isToGoFirst = ({ state }: Seen, first: number, second: number): boolean =>
  state.dispatching.wishes.firsts.some((it) => it.first === first && it.second === second);

/** Notes what first trains have left behind; drops what can't come about any more, and says so. */
export function settleFirstWishes(w: Writer): void {
  for (const wish of w.state.dispatching.wishes.firsts) {
    const { first, second } = wish;
    const isHeld = (element: number): boolean => w.state.elements[element]!.holder === first;
    const left = wish.elements.filter((it) => isHeld(it) || !wish.taken.includes(it));
    wish.taken = left.filter((it) => isHeld(it) || wish.taken.includes(it));
    wish.elements = left;
    const why = whyNot(w, first);
    if (why !== null) drop(w, wish, `${labelOf(w, first)} ${why}`);
    else if (left.length === 0 || w.state.trains[first]!.leg > wish.leg) forget(w, wish);
    else if (whyNot(w, second) === 'is not on the layout') forget(w, wish);
  }
}

/** A train has waited too long: it is nobody's first or second by a wish any more. */
export function dropFirstWishes(w: Writer, index: number, why: string): void {
  for (const wish of w.state.dispatching.wishes.firsts)
    if (wish.first === index || wish.second === index) drop(w, wish, why);
}

/**
 * Where all trains wait and nothing but a person ends that, whoever is to let another go first waits only for one that a person keeps,
 * or has to see to.
 */
export function dropFirstWishesIfAllWait(w: Writer): void {
  for (const wish of w.state.dispatching.wishes.firsts) {
    const [first, second] = [wish.first, wish.second].map((it) => w.state.trains[it]!.wait?.kind);
    if (second === 'order-given' && !(first !== undefined && FOR_A_PERSON.includes(first)))
      drop(w, wish, 'with it all trains would stand and wait');
  }
}

/** Waits that only a person ends. */
const FOR_A_PERSON: readonly WaitReason['kind'][] = [
  'held-by-person',
  'departures-held',
  'in-hand',
  'halted',
];

/** Why no order with the train can be wished; one that was stopped comes when a person has seen to it. */
function whyNot({ state }: Seen, index: number): string | null {
  const { activity, identity, confirmed } = state.trains[index]!;
  if (activity.kind === 'absent') return 'is not on the layout';
  if (!confirmed || identity.certainty === 'ambiguous') return 'is not known for certain';
  return null;
}

function drop(w: Writer, wish: FirstWish, why: string): void {
  forget(w, wish);
  const text = `That ${labelOf(w, wish.first)} goes before ${labelOf(w, wish.second)} is dropped: ${why}.`;
  w.log(text, wish.first);
}

function forget(w: Writer, wish: FirstWish): void {
  const { wishes } = w.state.dispatching;
  wishes.firsts = wishes.firsts.filter((it) => it !== wish);
  for (const train of [wish.first, wish.second]) w.train(train);
  w.state.dispatching.due = true;
}

const labelOf = ({ world }: Seen, train: number): string => world.stock.trains[train]!.file.label;

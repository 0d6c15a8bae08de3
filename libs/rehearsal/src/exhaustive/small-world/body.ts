import type { Motion, Traits } from './motion.js';
import { whenBeyond } from './motion.js';
import type { SmallTrack } from './small-track.js';

/** A leg of an element that a body stands on, `start` to `end` along the body's own line, µm. */
export interface Stretch {
  readonly element: number;
  readonly leg: number;
  /** Whether it runs from the leg's `from` to its `to`. */
  readonly along: boolean;
  readonly start: number;
  readonly end: number;
}

/** Which end of all that was measured: furthest (fast, brakes weakly, heeds stops late) or shortest. */
export type Pace = 'long' | 'short';

/** A train as it really stands and runs. Plain data. */
export interface Body extends Motion {
  readonly pace: Pace;
  /** From where its tail stands to where its head does, in the direction in which it runs. Never empty. */
  line: Stretch[];
  /** Whether the train's front is the end that leads. */
  frontLeads: boolean;
  /** Where its head was when it last moved on: cuts that it has crossed since are still to be told of, µm. */
  reached: number;
  /** Commands on their way to its motor. */
  orders: { readonly at: number; readonly target: number; readonly frontLeads: boolean }[];
}

/** A place on the track, mm from the leg's `from` port. */
export interface Place {
  readonly element: number;
  readonly leg: number;
  readonly offset: number;
}

/** Everywhere along its line where what sees or holds the body changes, µm. */
function cutsOf(track: SmallTrack, { line }: Body): number[] {
  return line.flatMap(({ element, leg, along, start }) => {
    let at = start;
    return track.pieces(element, leg, along).map(({ length }) => (at += length * 1000));
  });
}

/** When its head or its tail next crosses a cut, or a command takes effect, ms; null: never. */
export function nextOf(track: SmallTrack, body: Body, traits: Traits): number | null {
  const times = body.orders.slice(0, 1).map(({ at }) => at);
  const cuts = cutsOf(track, body);
  for (const offset of [0, traits.length]) {
    const next = cuts.find((cut) => cut + offset >= body.reached);
    const at = next === undefined ? null : whenBeyond(body, traits, next + offset);
    if (at !== null) times.push(Math.max(at, body.since));
  }
  return times.length === 0 ? null : Math.min(...times);
}

/** The sections its axles are in. */
export function sectionsUnder(track: SmallTrack, body: Body, { length }: Traits): number[] {
  const found: number[] = [];
  for (const { element, leg, along, start } of body.line) {
    let from = start;
    for (const piece of track.pieces(element, leg, along)) {
      const to = from + piece.length * 1000;
      if (piece.section >= 0 && body.head > from && body.head - length < to) {
        found.push(piece.section);
      }
      from = to;
    }
  }
  return found;
}

/** The parts of elements it stands on, mm from each leg's `from` port. */
export function standsOn(
  body: Body,
  { length }: Traits,
): { element: number; leg: number; from: number; to: number }[] {
  return body.line.flatMap(({ element, leg, along, start, end }) => {
    const near = (Math.max(body.head - length, start) - start) / 1000;
    const far = (Math.min(body.head, end) - start) / 1000;
    const whole = (end - start) / 1000;
    if (far <= near) return [];
    const [from, to] = along ? [near, far] : [whole - far, whole - near];
    return [{ element, leg, from, to }];
  });
}

/** Where the train's front or rear is. */
export function endOf(body: Body, { length }: Traits, which: 'front' | 'rear'): Place {
  const at = (which === 'front') === body.frontLeads ? body.head : body.head - length;
  const on =
    body.line.find(({ start, end }) => at >= start && at <= end) ??
    body.line[at < body.line[0]!.start ? 0 : body.line.length - 1]!;
  const run = (at - on.start) / 1000;
  const offset = on.along ? run : (on.end - on.start) / 1000 - run;
  return { element: on.element, leg: on.leg, offset };
}

/** The other end leads from now on. Only for one that stands. */
export function turnBody(body: Body, { length }: Traits): void {
  const last = body.line.at(-1)!.end;
  body.line = body.line
    .toReversed()
    .map((it) => ({ ...it, along: !it.along, start: last - it.end, end: last - it.start }));
  body.head = last - (body.head - length);
  body.reached = body.head;
  body.frontLeads = !body.frontLeads;
}

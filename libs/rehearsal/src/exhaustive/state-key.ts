import { decisionKey } from '@blockbell/railway';
import { spansOf, type Happening, type Whole } from './choices.js';
import type { Bounds } from './scenario.js';
import type { Body } from './small-world/body.js';
import type { SmallWorld } from './small-world/small-world.js';

/** A train that draws up to its mark step by step comes further with each: by more than this, µm. */
const CELL = 50_000;

/**
 * What makes two whole states the same: the engine's decision key; of the truth, in which detected stretch each head and tail
 * is, each head to 5 cm, whether it runs and what it was told, how drives lie, what is on its way; and in which order all that is to come by itself
 * can come first and must come last. Millimetres and milliseconds are left out, unless the bounds ask for them.
 */
export function stateKey(
  small: SmallWorld,
  whole: Whole,
  resolution: Bounds['resolution'],
): string {
  const { engine, truth, disturbances } = whole;
  const actual = JSON.stringify([
    disturbances,
    truth.bodies.map((body, train) => (body === null ? null : bodyKey(small, body, train))),
    truth.drives.map((drive) => drive && [drive.position, drive.moving?.to]),
    truth.powered,
    truth.readings,
    truth.dropouts.map(({ section }) => section),
    truth.messages.map(({ event, lane }) => [event, lane]),
    orderOf(small, whole),
    resolution === 'exact' ? exactly(small, whole) : null,
  ]);
  return hash(decisionKey(small.world, engine) + actual);
}

/** 64 bits of a text, in two lanes that mix each character differently: FNV-1a, and the same from another start with another prime. */
function hash(text: string): string {
  let one = 0x811c9dc5;
  let other = 0x9e3779b9;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    one = Math.imul(one ^ code, 0x01000193);
    other = Math.imul((other ^ code) + (other >>> 15), 0x85ebca6b);
  }
  return `${(one >>> 0).toString(36)}-${(other >>> 0).toString(36)}`;
}

function bodyKey(small: SmallWorld, body: Body, train: number): unknown {
  const { length } = small.traits(train, body);
  return [
    body.pace,
    body.frontLeads,
    body.line.map(({ element, leg, along }) => [element, leg, along]),
    pieceAt(small, body, body.head),
    pieceAt(small, body, body.head - length),
    Math.floor(body.head / CELL),
    body.speed === 0,
    body.target,
    body.orders.map(({ target, frontLeads }) => [target, frontLeads]),
  ];
}

/** Number of the detected stretch along its line in which a place of a body is. */
function pieceAt(small: SmallWorld, { line }: Body, place: number): number {
  let count = 0;
  for (const { element, leg, along, start } of line) {
    let end = start;
    for (const { length } of small.track.pieces(element, leg, along)) {
      end += length * 1000;
      if (place <= end) return count;
      count++;
    }
  }
  return count;
}

/** In which order what is to come can come first and must come last; what can come now stands first. */
function orderOf(small: SmallWorld, whole: Whole): string[] {
  const { now } = whole.truth;
  return spansOf(small, whole)
    .flatMap(({ from, until, happening }) => {
      const name = nameOf(happening);
      const first = { at: Math.max(from, now), name };
      return from < until ? [first, { at: until, name: `${name} last` }] : [first];
    })
    .sort((a, b) => a.at - b.at || (a.name < b.name ? -1 : 1))
    .map(({ at, name }, place, all) => (at === (all[place - 1]?.at ?? now) ? `=${name}` : name));
}

function nameOf(happening: Happening): string {
  switch (happening.kind) {
    case 'body':
      return `body ${happening.train}`;
    case 'message':
      return `message ${happening.message}`;
    case 'thrown':
      return `thrown ${happening.element}`;
    case 'contact':
      return `contact ${happening.dropout}`;
    default:
      return happening.kind;
  }
}

/** Beside that, from now on to the ms: deadlines, reckoning, the spans of what comes next; and every place to the µm. */
function exactly(small: SmallWorld, whole: Whole): unknown {
  const { engine, truth } = whole;
  const { now } = truth;
  const fromNow = (name: string, value: unknown): unknown =>
    name === 'since' || name === 'at' ? (value as number) - now : value;
  return [
    spansOf(small, whole).map(({ from, until }) => [Math.max(0, from - now), until - now]),
    JSON.stringify(
      [truth.bodies, engine.deadlines, engine.trains.map((it) => it.reckoning)],
      fromNow,
    ),
  ];
}

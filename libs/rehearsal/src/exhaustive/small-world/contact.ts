import { standsOn } from './body.js';
import type { SmallState } from './small-state.js';
import type { SmallWorld } from './small-world.js';

/** A train's hold on an element: it stands on these legs, and fouls these ports from just beyond them. */
interface Presence {
  readonly legs: Map<number, { readonly from: number; readonly to: number }>;
  readonly beyond: Set<string>;
}

/**
 * Where trains touch, in words: two on one leg that overlap, two on different legs of one turnout or crossing, one there and
 * another beyond a port so near that it fouls.
 */
export function touchOf(small: SmallWorld, truth: SmallState): string[] {
  const present = truth.bodies.map((_, train) => presenceOf(small, truth, train));
  const found: string[] = [];
  const { layout, stock } = small.world;
  present.forEach((one, train) => {
    present.slice(train + 1).forEach((other, after) => {
      for (const [element, mine] of one) {
        const theirs = other.get(element);
        if (theirs === undefined || !touches(small, element, mine, theirs)) continue;
        const names = [train, train + 1 + after].map((it) => stock.trains[it]!.file.label);
        found.push(`${names.join(' and ')} touch at ${layout.elements[element]!.id}`);
      }
    });
  });
  return found;
}

function presenceOf(small: SmallWorld, truth: SmallState, train: number): Map<number, Presence> {
  const found = new Map<number, Presence>();
  const body = truth.bodies[train];
  if (body === null || body === undefined) return found;
  const at = (element: number): Presence => {
    const known = found.get(element) ?? { legs: new Map(), beyond: new Set() };
    found.set(element, known);
    return known;
  };
  const { layout } = small.world;
  for (const { element, leg, from, to } of standsOn(body, small.traits(train, body))) {
    at(element).legs.set(leg, { from, to });
    const own = layout.elements[element]!.legs[leg]!;
    for (const [port, room] of [
      [own.from, from],
      [own.to, own.length - to],
    ] as const) {
      const joint = small.track.beyond(element, port);
      const met = layout.elements[joint?.element ?? -1];
      const fouling = Math.max(
        0,
        ...(met?.legs ?? []).map((it) =>
          it.to === joint?.port
            ? it.foulingBeyondTo
            : it.from === joint?.port
              ? it.foulingBeyondFrom
              : 0,
        ),
      );
      if (room < fouling) at(joint!.element).beyond.add(joint!.port);
    }
  }
  return found;
}

function touches(small: SmallWorld, element: number, one: Presence, other: Presence): boolean {
  const { legs } = small.world.layout.elements[element]!;
  for (const [leg, { from, to }] of one.legs) {
    for (const [their, span] of other.legs) {
      if (leg !== their || (from < span.to && span.from < to)) return true;
    }
  }
  const fouls = (here: Presence, beyond: Presence): boolean =>
    [...here.legs.keys()].some((leg) =>
      [...beyond.beyond].some((port) => legs[leg]!.from !== port && legs[leg]!.to !== port),
    );
  return fouls(one, other) || fouls(other, one);
}

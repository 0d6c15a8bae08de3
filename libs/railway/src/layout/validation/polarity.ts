import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import type { ElementFile, LayoutFile } from '../layout-file.js';
import type { ElementIndex } from '../layout.js';
import { gapsByPort, gapSides, insideOf } from '../reversing.js';
import type { GapsByPort } from '../reversing.js';
import { portKey } from '../track-graph.js';
import type { Port, TrackGraph } from '../track-graph.js';

/**
 * Two-rail track: rails that meet carry the same phase. Every element has a sign, +1 when its left rail (looking
 * from its `a` or stem side) carries the first phase. Going round any way that has no gap, the sign must come back as
 * it was; where it doesn't, the first phase meets the second: a short circuit.
 */
export function checkPolarity(file: LayoutFile, graph: TrackGraph): Fault[] {
  const gaps = gapsByPort(file, graph);
  const { fed, clashes } = spreadPolarity(graph, gaps);
  return [
    ...clashes.map(({ join, loop }) =>
      fault(
        `joins[${join}] ${file.joins[join]?.join('–')}`,
        `the track comes back to itself reversed, a short circuit: ${loop.map((index) => file.elements[index]?.id).join(', ')}`,
        'make a stretch of this loop that holds the longest train a reversing section, gapped at all its ends',
      ),
    ),
    ...checkDeclared(file, graph, fed),
  ];
}

/** An element as far as it is one piece of conductor. The two tracks of a plain crossing are insulated. */
type Conductor = number;
const conductorAt = (element: ElementFile, { element: index, port }: Port): Conductor =>
  index * 2 + (element.kind === 'crossing' && (port === 'b' || port === 'd') ? 1 : 0);

/** +1 where leaving by the port looks along the element, −1 where it looks back. */
const lookOut = ({ port }: Port, element: ElementFile): number => {
  const back = port === 'stem' || port === 'a' || (port === 'b' && element.kind !== 'block');
  return back ? -1 : 1;
};

interface Fed {
  readonly network: number;
  readonly sign: number;
  readonly from: Conductor | null;
}

interface Clash {
  readonly join: number;
  readonly loop: readonly ElementIndex[];
}

/** Spreads signs over all joins without gaps. */
function spreadPolarity(
  graph: TrackGraph,
  gaps: GapsByPort,
): { fed: ReadonlyMap<Conductor, Fed>; clashes: readonly Clash[] } {
  interface Link {
    readonly to: Conductor;
    readonly turn: number;
    readonly join: number;
  }
  const links = new Map<Conductor, Link[]>();
  graph.joins.forEach((pair, join) => {
    if (pair === null || gaps.has(portKey(pair[0].element, pair[0].port))) return;
    const [left, right] = pair.map((port) => {
      const element = graph.elements[port.element]!;
      return { at: conductorAt(element, port), out: lookOut(port, element) };
    });
    if (left === undefined || right === undefined) return;
    // Looking out of one port is looking into the other: the same rail is on the left there, on the right here.
    const turn = -left.out * right.out;
    links.set(left.at, [...(links.get(left.at) ?? []), { to: right.at, turn, join }]);
    links.set(right.at, [...(links.get(right.at) ?? []), { to: left.at, turn, join }]);
  });

  const fed = new Map<Conductor, Fed>();
  const clashes = new Map<number, Clash>();
  for (const start of links.keys()) {
    if (fed.has(start)) continue;
    fed.set(start, { network: start, sign: 1, from: null });
    const waiting = [start];
    for (let at = waiting.shift(); at !== undefined; at = waiting.shift()) {
      const here = fed.get(at)!;
      for (const { to, turn, join } of links.get(at) ?? []) {
        const there = fed.get(to);
        if (there === undefined) {
          fed.set(to, { network: here.network, sign: here.sign * turn, from: at });
          waiting.push(to);
        } else if (there.sign !== here.sign * turn && !clashes.has(join)) {
          clashes.set(join, { join, loop: loopThrough(at, to, fed) });
        }
      }
    }
  }
  return { fed, clashes: [...clashes.values()] };
}

/** The elements of the loop that a link between two fed conductors closes. */
function loopThrough(
  left: Conductor,
  right: Conductor,
  fed: ReadonlyMap<Conductor, Fed>,
): readonly ElementIndex[] {
  const wayBack = (start: Conductor): Conductor[] => {
    const way: Conductor[] = [];
    for (let at: Conductor | null = start; at !== null; at = fed.get(at)?.from ?? null)
      way.push(at);
    return way;
  };
  const leftWay = wayBack(left);
  const rightWay = wayBack(right);
  const meeting = leftWay.findIndex((at) => rightWay.includes(at));
  const there = rightWay.slice(0, rightWay.indexOf(leftWay[meeting] ?? -1));
  const loop = [...leftWay.slice(0, meeting + 1), ...there.reverse()];
  return [...new Set(loop.map((at) => at >> 1))];
}

/** Gaps between the same two pieces of track must agree on which polarity fits. */
function checkDeclared(
  file: LayoutFile,
  graph: TrackGraph,
  fed: ReadonlyMap<Conductor, Fed>,
): Fault[] {
  return file.reversingSections.flatMap((section, index) => {
    const inside = insideOf(section, graph);
    const first = new Map<string, { port: string; swapped: boolean; fits: number }>();
    return section.gaps.flatMap(({ port, polarity }, gap) => {
      const sides = gapSides(port, inside, graph);
      if (sides === null) return [];
      const [inner, outer] = [sides.inner, sides.outer].map((side) => {
        const element = graph.elements[side.element]!;
        const at = fed.get(conductorAt(element, side));
        const own = conductorAt(element, side);
        return {
          network: at?.network ?? own,
          sign: (at?.sign ?? 1) * lookOut(side, element),
        };
      });
      if (inner === undefined || outer === undefined) return [];
      const fits = -inner.sign * outer.sign;
      const swapped = polarity === 'reversed';
      const key = `${inner.network}-${outer.network}`;
      const earlier = first.get(key);
      if (earlier === undefined) {
        first.set(key, { port, swapped, fits });
        return [];
      }
      const agrees = (earlier.fits === fits) === (earlier.swapped === swapped);
      return agrees
        ? []
        : [
            fault(
              `${placeOf('reversingSections', index, section.id)} gaps[${gap}] ${port}`,
              `polarity ${polarity} does not fit here if ${earlier.port} has ${earlier.swapped ? 'reversed' : 'normal'}`,
              `enter ${swapped ? 'normal' : 'reversed'} for this gap`,
            ),
          ];
    });
  });
}

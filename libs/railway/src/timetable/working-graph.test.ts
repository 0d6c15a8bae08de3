import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beginSearch, continueSearch } from '../dispatching/safety-search.js';
import { compileLayout } from '../layout/compile-layout.js';
import { blockOf, endAhead, type Layout } from '../layout/layout.js';
import {
  block,
  bufferStop,
  detection,
  layoutOf,
  passingLoop,
  reversing,
  station,
  turnout,
} from '../testing/layout-parts.js';
import { graphsOf, type TrainWish } from '../testing/work-parts.js';
import type { WorkingGraph } from './working-graph.js';

const name = (layout: Layout, element: number): string => layout.elements[element]!.id;
const names = (layout: Layout, elements: readonly number[]): string[] =>
  elements.map((element) => name(layout, element)).sort();

/** Where a node's train stands: `block>end`, with the leg. */
function placed(layout: Layout, graph: WorkingGraph, node: number): string {
  const { heading, leg } = graph.placeOf(node);
  return `${name(layout, blockOf(heading))}>${endAhead(heading)} ${leg}`;
}

/** The moves of a node that a train alone on the railway may make. */
const open = (graph: WorkingGraph, node: number) =>
  graph
    .moves(node)
    .filter((move) => !move.needsFreeOfSelf.some((it) => graph.holds(node).includes(it)));

/** Every node a train alone can come to. */
function reachable(graph: WorkingGraph): number[] {
  const found = [graph.start];
  for (const node of found) {
    for (const { to } of open(graph, node)) if (!found.includes(to)) found.push(to);
  }
  return found;
}

const finishes = (graph: WorkingGraph): boolean =>
  reachable(graph).some((node) => graph.isGoal(node));

function verdict(layout: Layout, graphs: readonly WorkingGraph[]): string {
  const problem = { resourceCount: layout.elements.length, trains: graphs };
  const nodes = graphs.map(({ start }) => start);
  return continueSearch(problem, beginSearch(problem, nodes, []), 10_000).kind;
}

const coarseFile = passingLoop();
const coarse = compileLayout(coarseFile);

/** The passing loop with detection that shows a tail clear of the turnouts. */
const fineElements = coarseFile.elements.map((element) =>
  element.id === 'M' || element.id === 'S'
    ? block(element.id, 1200, {
        detection: detection(
          [`s-${element.id}`, 150],
          [`s-${element.id}2`, 900],
          [`s-${element.id}3`, 150],
        ),
      })
    : element,
);
const loop = compileLayout({
  ...coarseFile,
  elements: fineElements,
  sections: layoutOf(fineElements, []).sections,
});

const east = (more: Partial<TrainWish> = {}): TrainWish => ({
  id: 'T1',
  length: 600,
  stands: 'W>b',
  services: ['West Loop East'],
  ...more,
});

describe('working graph', () => {
  it('leads over both tracks of a passing loop and frees what is behind', () => {
    const [graph] = graphsOf(loop, east());
    const moves = graph!.moves(graph!.start);
    expect(moves.map(({ to }) => placed(loop, graph!, to))).toEqual(['M>b 1', 'S>b 1']);
    expect(names(loop, moves[0]!.needs)).toEqual(['M', 'TW']);
    expect(moves[0]!.needsFreeOfSelf).toEqual([]);
    expect(names(loop, graph!.holds(graph!.start))).toEqual(['W']);
    expect(names(loop, graph!.holds(moves[0]!.to))).toEqual(['M']);
    const [last] = graph!.moves(moves[1]!.to);
    expect(placed(loop, graph!, last!.to)).toBe('E>a 2');
    expect(graph!.isGoal(last!.to)).toBe(true);
    expect(graph!.moves(last!.to)).toEqual([]);
    expect(names(loop, graph!.holds(last!.to))).toEqual(['E']);
    expect(graph!.distance(graph!.start)).toBe(2);
  });

  it('keeps a turnout whose clearance no detector shows', () => {
    const [graph] = graphsOf(coarse, east());
    const [first] = graph!.moves(graph!.start);
    expect(names(coarse, graph!.holds(first!.to))).toEqual(['M', 'TW']);
  });

  it('follows the order of preference', () => {
    const [graph] = graphsOf(loop, east({ services: ['West Loop:t2,t1 East'] }));
    const moves = graph!.moves(graph!.start);
    expect(moves.map(({ to }) => placed(loop, graph!, to))).toEqual(['S>b 1', 'M>b 1']);
  });

  it('is doomed where a train is too long to stop, and hangs over where it only passes', () => {
    const [stops, passes] = graphsOf(
      loop,
      east({ length: 1400 }),
      east({ id: 'T2', length: 1400, services: ['West (Loop) East'] }),
    );
    expect(stops!.distance(stops!.start)).toBe(Infinity);
    expect(stops!.moves(stops!.start)).toEqual([]);
    const [first] = passes!.moves(passes!.start);
    expect(names(loop, passes!.holds(first!.to))).toEqual(['M', 'TW', 'W']);
    expect(finishes(passes!)).toBe(true);
  });

  it('lets two trains meet, unless both are too long for the loop', () => {
    const west = (length: number): TrainWish => ({
      id: 'T2',
      length,
      stands: 'E>b',
      services: ['East (Loop) West'],
    });
    const pair = (a: number, b: number) =>
      verdict(loop, graphsOf(loop, east({ length: a, services: ['West (Loop) East'] }), west(b)));
    expect(pair(600, 600)).toBe('safe');
    expect(pair(1400, 1400)).toBe('doomed');
  });

  it('turns a train that can reverse, and no other', () => {
    const there = ['West Loop East', 'East Loop West'];
    const [pushPull, hauled] = graphsOf(
      loop,
      east({ services: there, canReverse: true }),
      east({ id: 'T2', services: there }),
    );
    expect(hauled!.distance(hauled!.start)).toBe(Infinity);
    expect(pushPull!.distance(pushPull!.start)).toBe(4);
    const end = reachable(pushPull!).find((node) => placed(loop, pushPull!, node) === 'E>a 2')!;
    const moves = pushPull!.moves(end);
    expect(moves.map(({ to }) => placed(loop, pushPull!, to))).toEqual(['M>a 3', 'S>a 3']);
    expect(pushPull!.meaningOf(end, moves[0]!.to).reverses).toBe(true);
    expect(pushPull!.placeOf(moves[0]!.to).frontLeads).toBe(false);
    expect(finishes(pushPull!)).toBe(true);
  });

  it('does not turn a train that still holds a turnout', () => {
    const services = ['West Loop', 'Loop West'];
    const wish = east({ services, canReverse: true });
    expect(finishes(graphsOf(loop, wish)[0]!)).toBe(true);
    expect(finishes(graphsOf(coarse, wish)[0]!)).toBe(false);
  });

  it('holds what a train without work stands on, and nothing for an absent one', () => {
    const [graph] = graphsOf(loop, east({ services: [] }));
    expect(graph!.isGoal(graph!.start)).toBe(true);
    expect(names(loop, graph!.holds(graph!.start))).toEqual(['W']);
    expect(graph!.holds(graph!.absent)).toEqual([]);
    expect(graph!.isGoal(graph!.absent)).toBe(true);
  });
});

/** A balloon loop with a platform in front of it. */
const balloon = compileLayout(
  layoutOf(
    [
      bufferStop('B'),
      block('A', 3000),
      turnout('T'),
      block('L', 2500, { detection: detection(['l1', 200], ['l2', 2100], ['l3', 200]) }),
    ],
    ['B.a A.a', 'A.b T.stem', 'T.straight L.a', 'T.diverging L.b'],
    {
      stations: [station('Front', 0, ['A']), station('Round', 1, ['L'])],
      reversingSections: [
        reversing(
          'R',
          ['L'],
          [
            { port: 'L.a', polarity: 'normal' },
            { port: 'L.b', polarity: 'reversed' },
          ],
        ),
      ],
    },
  ),
);

describe('a balloon loop', () => {
  const round = (length: number): TrainWish => ({
    id: 'T1',
    length,
    stands: 'A>b',
    services: ['Front (Round) Front'],
  });

  it('is run through by a train that fits, its polarity changed while the train is inside', () => {
    const [graph] = graphsOf(balloon, round(1200));
    const [first] = graph!.moves(graph!.start);
    expect(names(balloon, first!.needs)).toEqual(['L', 'R', 'T']);
    expect(names(balloon, graph!.holds(first!.to))).toEqual(['L']);
    expect(finishes(graph!)).toBe(true);
    expect(verdict(balloon, [graph!])).toBe('safe');
    const ends = reachable(graph!).filter((node) => graph!.isGoal(node));
    expect(ends.map((node) => placed(balloon, graph!, node))).toEqual(['A>a 2']);
  });

  it('is refused to a train that would bridge both gaps', () => {
    const [graph] = graphsOf(balloon, round(2380));
    const [first] = graph!.moves(graph!.start);
    expect(names(balloon, graph!.holds(first!.to))).toEqual(['L', 'R', 'T']);
    const [second] = graph!.moves(first!.to);
    expect(names(balloon, second!.needsFreeOfSelf)).toEqual(['R', 'T']);
    expect(finishes(graph!)).toBe(false);
    expect(verdict(balloon, [graph!])).toBe('doomed');
  });
});

/** A yard with a track of two slots and one of a single block: IN – T1 = (P–Q | R) = T2 – OUT. */
const yard = compileLayout(
  layoutOf(
    [
      bufferStop('BI'),
      block('IN', 1500),
      turnout('T1'),
      block('P', 900, { detection: detection(['p1', 150], ['p2', 600], ['p3', 150]) }),
      block('Q', 900, { detection: detection(['q1', 150], ['q2', 600], ['q3', 150]) }),
      block('R', 900, { detection: detection(['r1', 150], ['r2', 600], ['r3', 150]) }),
      turnout('T2'),
      block('OUT', 1500),
      bufferStop('BO'),
    ],
    [
      'BI.a IN.a',
      'IN.b T1.stem',
      'T1.straight P.a',
      'P.b Q.a',
      'Q.b T2.straight',
      'T1.diverging R.a',
      'R.b T2.diverging',
      'T2.stem OUT.a',
      'OUT.b BO.a',
    ],
    {
      stations: [
        station('In', 0, ['IN']),
        { ...station('Yard', 1, ['P', 'Q'], ['R']), kind: 'staging-yard' },
        station('Out', 2, ['OUT']),
      ],
    },
  ),
);

describe('a yard track with slots', () => {
  const arrival = (length: number): TrainWish => ({
    id: 'T1',
    length,
    stands: 'IN>b',
    services: ['In Yard Out'],
  });

  it('is filled from its far end, or a train stays in the slot behind', () => {
    const [graph] = graphsOf(yard, arrival(500));
    const moves = graph!.moves(graph!.start);
    expect(moves.map(({ to }) => placed(yard, graph!, to))).toEqual(['P>b 0', 'R>b 1']);
    const further = graph!.moves(moves[0]!.to);
    expect(further.map(({ to }) => placed(yard, graph!, to))).toEqual(['Q>b 1', 'P>b 1']);
    const stay = graph!.meaningOf(moves[0]!.to, further[1]!.to);
    expect(stay).toEqual({ route: null, reverses: false });
    expect(further[1]!.needs).toEqual(graph!.holds(moves[0]!.to));
    expect(graph!.distance(graph!.start)).toBe(2);
  });

  it('takes a train over both slots', () => {
    const [graph] = graphsOf(yard, arrival(1300));
    const [first] = graph!.moves(graph!.start);
    const further = graph!.moves(first!.to);
    expect(further.map(({ to }) => placed(yard, graph!, to))).toEqual(['Q>b 1']);
    expect(names(yard, graph!.holds(further[0]!.to))).toEqual(['P', 'Q']);
  });
});

describe('every working graph', () => {
  const wishes = fc
    .record({
      length: fc.integer({ min: 300, max: 1600 }),
      canReverse: fc.boolean(),
      unseenFront: fc.constantFrom(0, 0, 90),
      unseenRear: fc.constantFrom(0, 0, 90),
      services: fc.constantFrom(
        ['West Loop East'],
        ['West (Loop) East', 'East Loop West'],
        ['West Loop', 'Loop West', 'West East'],
        ['West Loop:t2 East', 'East (Loop) West', 'West Loop East'],
      ),
    })
    .map((wish): TrainWish => ({ id: 'T1', stands: 'W>b', ...wish }));

  it('knows its nodes again, needs what it comes to hold, and bounds the moves left', () => {
    fc.assert(
      fc.property(wishes, (wish) => {
        const [graph] = graphsOf(loop, wish);
        for (const node of reachable(graph!)) {
          const place = graph!.placeOf(node);
          expect(graph!.nodeFor(place)).toBe(node);
          expect(graph!.moves(node)).toBe(graph!.moves(node));
          if (graph!.isGoal(node)) expect(graph!.distance(node)).toBe(0);
          for (const { to, needs } of graph!.moves(node)) {
            const known = new Set(needs);
            expect(graph!.holds(to).every((it) => known.has(it))).toBe(true);
            expect(graph!.distance(node)).toBeLessThanOrEqual(1 + graph!.distance(to));
            expect(graph!.meaningOf(node, to).route).not.toBeNull();
          }
        }
      }),
      { numRuns: 100 },
    );
  });
});

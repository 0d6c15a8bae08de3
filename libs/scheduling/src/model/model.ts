import { ALWAYS, ARRIVAL, EventGraph, PLAIN, WAY } from '../engine/event-graph.js';
import type { CostTerm } from '../engine/costs.js';
import type { EngineInput } from '../engine/engine.js';
import { horizonOf } from '../problem/horizon.js';
import type { Problem } from '../problem/problem.js';
import { linkOrders } from './linked-orders.js';
import { encounters, type Holding } from './orders.js';
import { isHeldOn, piecesOf, type Piece } from './pieces.js';
import { compileRoutes } from './routes.js';
import { trainCosts } from './train-costs.js';

/** Beyond every time and cost that can occur. */
const FAR = 1_125_899_906_842_624;

/** A question of order between two trains: the literal says that the first goes first. */
export interface OrderChoice {
  readonly literal: number;
  readonly trains: readonly [number, number];
  /** What both want, each time: where the one holds it and where the other does. */
  readonly meetings: readonly (readonly [readonly PieceNodes[], readonly PieceNodes[]])[];
}

/** The first and the last node of operations through which a train holds something, one after another. */
export interface PieceNodes {
  readonly first: number;
  readonly last: number;
}

/** A fork on a train's way: the literals of the ways out, of which it takes one if it comes by the node. */
export interface RouteChoice {
  readonly train: number;
  readonly node: number;
  readonly ways: readonly number[];
  readonly targets: readonly number[];
}

/** A problem as the engine takes it, and what the search has to know of it. */
export interface Model extends EngineInput {
  readonly orders: readonly OrderChoice[];
  readonly routes: readonly RouteChoice[];
  /** First node of each train; its operations follow in their order. */
  readonly firstNode: readonly number[];
}

export function compileModel(problem: Problem): Model {
  const lower: number[] = [1];
  const upper: number[] = [1];
  const newVariable = (least: number, most: number): number => {
    lower.push(least);
    upper.push(most);
    return lower.length - 1;
  };
  const newLiteral = (): number => 2 * newVariable(0, 1);
  const graph = new EventGraph();
  const clauses: (readonly number[])[] = [];
  const routes: RouteChoice[] = [];
  const firstNode: number[] = [];
  const horizon = horizonOf(problem);

  const paths = problem.trains.map((train, number) => {
    const path = compileRoutes(train, ALWAYS, newLiteral);
    clauses.push(...path.clauses);
    const first = graph.nodes;
    firstNode.push(first);
    train.forEach(({ startLb, startUb }, operation) => {
      const latest = Math.min(startUb, horizon);
      const presence = path.presence[operation]!;
      if (presence === ALWAYS) {
        const time = newVariable(startLb, Math.max(latest, startLb - 1));
        graph.addNode(time, time, presence);
      } else {
        graph.addNode(newVariable(startLb, FAR), newVariable(-FAR, latest), presence);
      }
    });
    train.forEach(({ successors, minDuration }, u) => {
      successors.forEach((v, i) =>
        graph.addEdge(first + u, first + v, minDuration, WAY, path.ways[u]![i]!),
      );
      if (successors.length > 1)
        routes.push({
          train: number,
          node: first + u,
          ways: path.ways[u]!,
          targets: successors.map((v) => first + v),
        });
    });
    for (const { from, to, least } of path.spans)
      graph.addEdge(
        first + from,
        first + to,
        least,
        PLAIN,
        path.presence[from]!,
        path.presence[to]!,
      );
    return path;
  });

  const pieces = new Map<Holding, readonly Piece[]>();
  const piecesFor = (holding: Holding): readonly Piece[] => {
    const known = pieces.get(holding);
    if (known !== undefined) return known;
    const { train } = holding;
    const found = piecesOf(problem.trains[train]!, paths[train]!.before, holding);
    pieces.set(holding, found);
    return found;
  };
  const nodesOf = (holding: Holding): PieceNodes[] => {
    const base = firstNode[holding.train]!;
    return piecesFor(holding).map(({ first, last }) => ({
      first: base + first,
      last: base + last,
    }));
  };
  const addOrder = (first: Holding, second: Holding, goesFirst: number): void => {
    const path = paths[first.train]!;
    const operations = problem.trains[first.train]!;
    const base = firstNode[first.train]!;
    const entries = piecesFor(second).filter(({ isEntry }) => isEntry);
    for (const { last: u, release } of piecesFor(first)) {
      const { successors, minDuration } = operations[u]!;
      const goesOn = successors.map((next) => isHeldOn(operations, first, next, release));
      if (successors.length === 1 && goesOn[0] === true) continue;
      for (const { first: v } of entries) {
        const present = paths[second.train]!.presence[v]!;
        const target = firstNode[second.train]! + v;
        if (successors.length === 0)
          clauses.push([goesFirst ^ 1, path.presence[u]! ^ 1, present ^ 1]);
        for (let n = 0; n < successors.length; n++) {
          if (goesOn[n] === true) continue;
          graph.addEdge(
            base + successors[n]!,
            target,
            release,
            PLAIN,
            goesFirst,
            path.ways[u]![n]!,
            present,
          );
        }
        if (successors.length > 1)
          graph.addEdge(
            base + u,
            target,
            minDuration + release,
            PLAIN,
            goesFirst,
            path.presence[u]!,
            present,
          );
      }
    }
  };
  const meetings = encounters(problem);
  const links = linkOrders(
    problem,
    meetings,
    paths.map(({ presence }) => presence),
    ALWAYS,
  );
  const orders: (OrderChoice & { readonly meetings: [PieceNodes[], PieceNodes[]][] })[] = [];
  meetings.forEach((holdings, encounter) => {
    const [a, b] = holdings;
    const order = (orders[links.questionOf[encounter]!] ??= {
      literal: newLiteral(),
      trains: [a.train, b.train],
      meetings: [],
    });
    addOrder(a, b, order.literal);
    addOrder(b, a, order.literal ^ 1);
    order.meetings.push([nodesOf(a), nodesOf(b)]);
  });
  for (const [one, other] of links.implied)
    clauses.push([
      orders[links.questionOf[one]!]!.literal ^ 1,
      orders[links.questionOf[other]!]!.literal,
    ]);

  const terms: CostTerm[] = [];
  paths.forEach(({ presence }, number) => {
    for (const { starts, threshold, coeff, increment } of trainCosts(problem, number)) {
      const [only, ...others] = starts;
      if (others.length === 0) {
        terms.push({ node: firstNode[number]! + only!.operation, threshold, coeff, increment });
        continue;
      }
      // Where one of several is passed, what it costs can be told before it is known which.
      const time = newVariable(-FAR, FAR);
      const whichever = graph.addNode(time, time, ALWAYS);
      for (const { operation, later } of starts)
        graph.addEdge(
          firstNode[number]! + operation,
          whichever,
          later,
          ARRIVAL,
          presence[operation]!,
        );
      terms.push({ node: whichever, threshold, coeff, increment });
    }
  });
  for (const component of problem.objective) {
    if (component.type !== 'makespan' || component.coeff === 0) continue;
    const time = newVariable(-FAR, horizon);
    const end = graph.addNode(time, time, ALWAYS);
    problem.trains.forEach((train, number) =>
      graph.addEdge(firstNode[number]! + train.length - 1, end, 0, PLAIN, ALWAYS),
    );
    terms.push({ node: end, threshold: 0, coeff: component.coeff, increment: 0 });
  }
  const total = newVariable(0, FAR);
  return { lower, upper, graph, clauses, terms, total, orders, routes, firstNode };
}

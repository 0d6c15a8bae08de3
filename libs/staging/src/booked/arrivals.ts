import type { WorkingGraph } from '@blockbell/railway';

/**
 * By stop of a train's work: the places, as nodes of its graph, where it may come to rest there, on any way that its work
 * permits. Places from which its work can't be ended are left out.
 */
export function arrivals(graph: WorkingGraph): number[][] {
  const byStop: number[][] = [[graph.start]];
  for (let leg = 0; leg < graph.legCount; leg++) {
    byStop.push(ahead(graph, byStop[leg]!, leg + 1));
  }
  return byStop;
}

function ahead(graph: WorkingGraph, starts: readonly number[], leg: number): number[] {
  const seen = new Set(starts);
  const found = new Set<number>();
  const open = [...starts];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    if (graph.placeOf(node).leg >= leg) {
      found.add(node);
      continue;
    }
    for (const { to } of graph.moves(node)) {
      if (seen.has(to) || graph.distance(to) === Infinity) continue;
      seen.add(to);
      open.push(to);
    }
  }
  return [...found].sort((a, b) => a - b);
}

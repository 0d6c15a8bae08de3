import { restsAtEnd, type WorkingGraph } from '@blockbell/railway';

/**
 * By stop of a train's work: the places, as nodes of its graph, where it may come to rest there, on any way that its work
 * permits. Places from which its work can't be ended are left out.
 */
export function arrivals(graph: WorkingGraph): number[][] {
  const byStop: number[][] = [[graph.start]];
  for (let leg = 0; leg < graph.legCount; leg++) {
    byStop.push(restsAtEnd(graph, byStop[leg]!, leg + 1));
  }
  return byStop;
}

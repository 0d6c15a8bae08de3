import { fault } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { compileElements } from '../elements.js';
import type { LayoutFile } from '../layout-file.js';
import { blockOf } from '../layout.js';
import { gapsByPort } from '../reversing.js';
import { findWays } from '../routes.js';
import { createStepMaker } from '../steps.js';
import type { TrackGraph } from '../track-graph.js';
import { elementPlace } from './names.js';

/** Blocks that trains can enter, or may only run through one way, but that no route leaves. */
export function checkTraps(file: LayoutFile, graph: TrackGraph): Fault[] {
  const sections = new Map(file.sections.map(({ id }, index) => [id as string, index]));
  const elements = compileElements(file, graph, sections);
  const ways = findWays(
    elements,
    graph,
    createStepMaker(elements, sections, gapsByPort(file, graph)),
  );
  const left = new Set(ways.map((way) => blockOf(way.from)));
  const entered = new Set(ways.map((way) => blockOf(way.to)));

  return file.elements.flatMap((element, index) => {
    const joined = graph.mate(index, 'a') !== null && graph.mate(index, 'b') !== null;
    if (element.kind !== 'block' || left.has(index) || !joined) return [];
    if (element.directions === 'both' && !entered.has(index)) return [];
    return [
      fault(
        elementPlace(file, index),
        element.directions === 'both'
          ? 'trains can enter this block but no route leaves it'
          : `trains may only run ${element.directions.replaceAll('-', ' ')} here, and no route leads on from there`,
        'correct its permitted directions or those of the blocks it leads to, or join it to more track',
      ),
    ];
  });
}

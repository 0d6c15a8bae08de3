import type { Fault } from '../faults/fault.js';
import type { LayoutFile } from './layout-file.js';
import { buildTrackGraph } from './track-graph.js';
import { checkDrawing } from './validation/drawing.js';
import { checkJoins } from './validation/joins.js';
import { checkMeasures } from './validation/measures.js';
import { checkNames, checkReferences } from './validation/names.js';
import { checkOverlaps } from './validation/overlaps.js';
import { checkPolarity } from './validation/polarity.js';
import { checkReversingSections } from './validation/reversing-sections.js';
import { checkSections } from './validation/sections.js';
import { checkStations } from './validation/stations.js';
import { checkTraps } from './validation/traps.js';

/** All faults of a layout file in one go, by theme. No fault: `compileLayout` takes the file. */
export function validateLayout(file: LayoutFile): readonly Fault[] {
  const graph = buildTrackGraph(file);
  return [
    ...checkNames(file),
    ...checkReferences(file),
    ...checkJoins(file, graph),
    ...checkMeasures(file, graph),
    ...checkOverlaps(file, graph),
    ...checkSections(file, graph),
    ...checkStations(file, graph),
    ...checkReversingSections(file, graph),
    ...checkPolarity(file, graph),
    ...checkTraps(file, graph),
    ...checkDrawing(file),
  ];
}

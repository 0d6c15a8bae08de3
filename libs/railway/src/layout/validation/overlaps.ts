import { fault, type Fault } from '../../faults/fault.js';
import { legsOf } from '../element-legs.js';
import type { LayoutFile } from '../layout-file.js';
import { straightOn } from '../overlaps.js';
import type { TrackGraph } from '../track-graph.js';
import { elementPlace } from './names.js';

/** Overlaps for which there is not enough track: what a train is to have kept free beyond its mark, it would not have. */
export const checkOverlaps = (file: LayoutFile, graph: TrackGraph): Fault[] =>
  file.elements.flatMap((block, index) => {
    if (block.kind !== 'block') return [];
    return (['a', 'b'] as const).flatMap((end) => {
      const asked = block.overlap?.[end] ?? 0;
      const beyond = straightOn(index, end, asked, graph, (element) =>
        legsOf(file.elements[element]!, file.scaleRatio),
      );
      const there = beyond.reduce((sum, { leg }) => sum + leg.length, 0);
      if (there >= asked) return [];
      return [
        fault(
          `${elementPlace(file, index)} overlap ${end}`,
          `an overlap of ${asked} mm is asked for, but straight on beyond end ${end} there are ${there} mm of track`,
          there > 0 ? `enter ${there} mm or less` : 'leave it out',
        ),
      ];
    });
  });

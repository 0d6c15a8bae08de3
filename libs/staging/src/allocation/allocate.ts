import { burialsOf } from './burials.js';
import { AllocationSearch } from './allocation-search.js';
import type { Allocation, Yard } from './yard.js';

/** Berths looked at at most, unless told otherwise. */
const PATIENCE = 100_000_000;

/**
 * Gives every stay of a yard a track for the whole known timetable: as few as possible are left without one, then as few as
 * possible are kept from leaving by others, then at the least cost found. Room is never exceeded. Exact where the search ends
 * within `patience` looks at a berth; `proven` tells. Deterministic.
 */
export function allocate(yard: Yard, patience = PATIENCE): Allocation {
  const search = new AllocationSearch(yard, patience);
  const berths = search.run();
  return {
    berths,
    unplaced: berths.flatMap((berth, stay) => (berth === null ? [stay] : [])),
    burials: burialsOf(yard, berths),
    cost: berths.reduce<number>(
      (sum, berth, stay) => sum + (yard.stays[stay]!.berths[berth ?? -1]?.cost ?? 0),
      0,
    ),
    proven: search.isProven,
    looked: search.looked,
  };
}

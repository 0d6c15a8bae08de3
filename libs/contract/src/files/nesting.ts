/** Levels of objects and lists that a file may have; what is written by hand has ten at most, and what reads them goes down level by level. */
export const DEEPEST = 100;

/** Whether JSON nests no deeper than so many levels. */
export function nestsWithin(json: unknown, levels: number): boolean {
  let level = [json];
  for (let depth = 0; level.length > 0; depth++) {
    if (depth > levels) return false;
    level = level.flatMap((value) =>
      typeof value === 'object' && value !== null ? Object.values(value) : [],
    );
  }
  return true;
}

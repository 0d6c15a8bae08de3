/** Steps of the enumeration for each assignment that may be kept; beyond them they count as too many. */
const STEPS_EACH = 64;

/**
 * Every way to put `count` trains in `count` places, each in one of its own that it is allowed in, in dictionary order:
 * `way[train]` is the place. Null if there are more than `most`, or if that is not found out within a bounded number
 * of steps.
 */
export function assignmentsOf(
  count: number,
  allowed: (train: number, place: number) => boolean,
  most: number,
): number[][] | null {
  const found: number[][] = [];
  const way: number[] = [];
  let steps = most * STEPS_EACH;
  /** Whether all beyond the present start have been found. */
  const extend = (): boolean => {
    if (way.length === count) {
      found.push([...way]);
      return found.length <= most;
    }
    for (let place = 0; place < count; place++) {
      if (steps-- === 0) return false;
      if (way.includes(place) || !allowed(way.length, place)) continue;
      way.push(place);
      const complete = extend();
      way.pop();
      if (!complete) return false;
    }
    return true;
  };
  return extend() ? found : null;
}

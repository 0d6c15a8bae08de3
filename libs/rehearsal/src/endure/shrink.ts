/**
 * Shortens a list of what goes wrong to one that still fails and of which nothing can be left out any more: larger parts
 * are left out first, then smaller ones (delta debugging: Zeller and Hildebrandt, IEEE Trans. Softw. Eng. 28, 2002, from
 * memory). `fails` is asked at most `most` times; what has been reached by then is returned.
 */
export function shrink<T>(
  whole: readonly T[],
  fails: (part: readonly T[]) => boolean,
  most: number,
): readonly T[] {
  let left = whole;
  let asked = 0;
  let parts = 1;
  while (left.length > 0 && asked < most) {
    const size = Math.ceil(left.length / parts);
    let found = false;
    for (let from = 0; from < left.length && asked < most; from += size) {
      const rest = [...left.slice(0, from), ...left.slice(from + size)];
      asked++;
      if (!fails(rest)) continue;
      left = rest;
      found = true;
      break;
    }
    if (found) parts = Math.max(1, Math.min(parts - 1, left.length));
    else if (size === 1) return left;
    else parts = Math.min(parts * 2, left.length);
  }
  return left;
}

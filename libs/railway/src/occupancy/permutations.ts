/** All orders of 0 … count − 1, in dictionary order; null if they are more than `most`. */
export function permutations(count: number, most: number): number[][] | null {
  let total = 1;
  for (let factor = 2; factor <= count; factor++) total *= factor;
  if (total > most) return null;
  let found: number[][] = [[]];
  for (let place = 0; place < count; place++) {
    found = found.flatMap((start) =>
      Array.from({ length: count }, (_, value) => value)
        .filter((value) => !start.includes(value))
        .map((value) => [...start, value]),
    );
  }
  return found;
}

/**
 * How much a measure grew: its least in the last third of the samples over its least in the second, as a share. The least,
 * since between two collections of garbage memory rises without anything being kept.
 * @param {readonly number[]} samples
 */
export function growth(samples) {
  const third = Math.floor(samples.length / 3);
  if (third === 0) throw new Error('growth needs three samples at least');
  const least = (from, to) => Math.min(...samples.slice(from, to));
  return least(-third) / least(third, samples.length - third) - 1;
}

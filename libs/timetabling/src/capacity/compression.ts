/**
 * Time that trains take up when their paths are pushed together as far as their least headways allow, in their order, up to
 * where the first one could come again (the compression of UIC leaflet 406, from memory). In the unit of the headways.
 * @param headway least time from the entry of one train to that of a later one
 */
export function compressedTime(
  count: number,
  headway: (first: number, second: number) => number,
): number {
  if (count === 0) return 0;
  const entries = [0];
  const earliest = (train: number): number =>
    entries.reduce((latest, at, other) => Math.max(latest, at + headway(other, train)), 0);
  for (let train = 1; train < count; train++) entries.push(earliest(train));
  return earliest(0);
}

import { blockOf, standingRoom, type Heading, type Layout } from '@blockbell/railway';

/** Blocks that a train needs to stand in, with its front in the first of `headings` (the nearest to the end it looks to). */
export function slotsNeeded(
  layout: Layout,
  headings: readonly Heading[],
  length: number,
): number | null {
  for (let count = 1; count <= headings.length; count++) {
    const blocks = headings.slice(0, count).map(blockOf);
    if (standingRoom(layout, blocks, headings[0]!) >= length) return count;
  }
  return null;
}

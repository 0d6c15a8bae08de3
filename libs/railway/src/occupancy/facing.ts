import { endAhead, opposite } from '../layout/layout.js';
import type { DecoderAddress } from '../stock/stock-file.js';
import type { Seen } from '../session/writer.js';

/**
 * Towards which end of the block a section lies in a train's locomotive should look; null where that can't be told: outside
 * blocks, off the train's way, or for the address of a consist, whose locomotives may look either way.
 */
export function expectedFacing(
  { world, state }: Seen,
  index: number,
  section: number,
  { kind, number }: DecoderAddress,
): 'a' | 'b' | null {
  const { path, frontLeads } = state.trains[index]!;
  const { elements } = world.layout.sections[section]!;
  const item = path.find(({ heading, element }) => heading >= 0 && elements.includes(element));
  const locomotive = world.stock.trains[index]!.locomotives.find(
    ({ file: { address } }) => address.kind === kind && address.number === number,
  );
  if (item === undefined || locomotive === undefined) return null;
  const looksAhead = frontLeads === locomotive.facingForward;
  return endAhead(looksAhead ? item.heading : opposite(item.heading));
}

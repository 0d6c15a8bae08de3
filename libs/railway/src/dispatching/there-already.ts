import { refusal, type Refusal } from '../session/refusal.js';
import type { Seen } from '../session/writer.js';
import { legOf } from '../timetable/legs.js';

/**
 * Why a train that stands at a stop can't begin a leg of its work there, at the node at which it would be put down: it
 * stands where that leg ends, and a train can't run to where it stands.
 */
export function thereAlready(
  { world }: Seen,
  index: number,
  { leg, node }: { readonly leg: number; readonly node: number },
  mend: string,
): Refusal | null {
  if (legOf(world.graphs[index]!, node) === leg) return null;
  const { label } = world.stock.trains[index]!.file;
  return refusal('there-already', `${label} stands where it would go to. ${mend}`);
}

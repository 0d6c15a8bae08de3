import { unprovenDrive } from '../interlocking/authority.js';
import type { Writer } from './writer.js';

/** Lets a train run on, unless a drive on its way was moved meanwhile: then it is stopped until that is set right. */
export function goOn(w: Writer, index: number): void {
  const unproven = unprovenDrive(w, index);
  if (unproven === null) return w.follow({ kind: 'control', train: index });
  const { id } = w.world.layout.elements[unproven]!;
  w.follow({
    kind: 'halt',
    train: index,
    why: `${id} on its way is not proven`,
    mend: `Set ${id} right, then let the train go on.`,
  });
}

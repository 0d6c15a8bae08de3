import type { Writer } from '../session/writer.js';
import { mayHaveStrayedInto } from './adjacent.js';
import { doubtIdentity } from './identity.js';

/**
 * A section became occupied by what nobody expected there. A train that may have come into it over a turnout that lies
 * otherwise than anybody knows, one without feedback that stuck, may be there instead of on its way: it stops, in doubt,
 * before it is missed where it should be. `except` has been seen to already.
 */
export function doubtStrayed(w: Writer, section: number, except = -1): void {
  w.state.trains.forEach((_, train) => {
    if (train === except || !mayHaveStrayedInto(w, train, section)) return;
    const { id } = w.world.layout.sections[section]!;
    const { label } = w.world.stock.trains[train]!.file;
    doubtIdentity(
      w,
      train,
      `section ${id} beside its way became occupied: it may have gone there over a turnout that lies wrong`,
      `Look where ${label} stands and say so.`,
    );
  });
}

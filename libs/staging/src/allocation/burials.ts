import { buriedOf } from './in-the-way.js';
import { orderOfComing } from './order-of-coming.js';
import type { Burial, Yard } from './yard.js';

/** Who is in whose way, with every stay in the berth named for it (null: it is not in the yard). */
export function burialsOf({ stays }: Yard, berths: readonly (number | null)[]): Burial[] {
  const placed = orderOfComing(stays).flatMap((index) => {
    const berth = stays[index]!.berths[berths[index] ?? -1];
    return berth === undefined ? [] : [{ index, stay: stays[index]!, berth }];
  });
  return placed.flatMap((earlier, at) =>
    placed.slice(at + 1).flatMap((later): Burial[] => {
      if (earlier.berth.track !== later.berth.track) return [];
      const buried = buriedOf(earlier, later);
      if (buried === null) return [];
      return buried === 'earlier'
        ? [{ stay: earlier.index, by: later.index }]
        : [{ stay: later.index, by: earlier.index }];
    }),
  );
}

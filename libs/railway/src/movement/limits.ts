import { stepOf } from '../interlocking/held-path.js';
import type { Writer } from '../session/writer.js';
import { mmPerS, um } from '../units.js';
import type { LimitFrom } from './profile.js';

/**
 * Speed limits along a train's path as positions of its head, µm: an element's limit holds from the head's entry until
 * the tail has left. Of all limits in force at a place the lowest counts.
 */
export function limitsAhead(w: Writer, index: number): LimitFrom[] {
  const train = w.state.trains[index]!;
  const { length, topSpeed } = w.world.stock.trains[index]!;
  const zones = train.path.slice(0, train.authorised + 1).flatMap((item) => {
    const { speedLimit } = stepOf(w.world.layout, item).leg;
    return speedLimit === null || speedLimit >= topSpeed
      ? []
      : [{ start: item.start, end: item.end + length, speed: speedLimit }];
  });
  const places = new Set([train.path[0]!.start, ...zones.flatMap((z) => [z.start, z.end])]);
  return [...places]
    .sort((a, b) => a - b)
    .map((from) => ({
      from: um(from * 1000),
      speed: mmPerS(
        zones.reduce<number>(
          (low, z) => (z.start <= from && from < z.end ? Math.min(low, z.speed) : low),
          topSpeed,
        ),
      ),
    }));
}

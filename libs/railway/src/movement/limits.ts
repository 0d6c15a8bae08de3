import { stepOf } from '../interlocking/held-path.js';
import { lacksOverlap } from '../interlocking/overlap.js';
import type { Writer } from '../session/writer.js';
import { mmPerS, um } from '../units.js';
import type { LimitFrom } from './profile.js';

/**
 * Speed limits along a train's path as positions of its head, µm: an element's limit holds from the head's entry until
 * the tail has left. Of all limits in force at a place the lowest counts. Track that only a person has said to be clear is
 * run over at restricted speed; so is the way into a track in which another train stands, and the block in which a way ends
 * without the overlap it should have.
 */
export function limitsAhead(w: Writer, index: number): LimitFrom[] {
  const train = w.state.trains[index]!;
  const { length, topSpeed } = w.world.stock.trains[index]!;
  const lastBlock = lacksOverlap(w, index) ? train.authorised : -1;
  const zones = train.path.slice(0, train.authorised + 1).flatMap((item, at) => {
    const step = stepOf(w.world.layout, item);
    const { speedLimit } = step.leg;
    const isRestricted =
      at === lastBlock ||
      item.calledOn === true ||
      step.pieces.some(
        ({ section }) => section >= 0 && w.state.sections[section]!.clearByHand !== null,
      );
    const speed = Math.min(
      speedLimit ?? topSpeed,
      isRestricted ? w.world.restrictedSpeed : topSpeed,
    );
    return speed >= topSpeed ? [] : [{ start: item.start, end: item.end + length, speed }];
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

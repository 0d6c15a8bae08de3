import { refusal, type Refusal } from '../session/refusal.js';
import type { Writer } from '../session/writer.js';

/** A crew takes a train in hand (at a stand until it asks for speed), or gives it back. */
export function takeInHand(w: Writer, index: number, take: boolean): Refusal | null {
  const train = w.train(index);
  const { label } = w.world.stock.trains[index]!.file;
  if (train.activity.kind === 'absent') return refusal('absent', `${label} is not on the layout.`);
  if (take && train.handSpeed !== null) {
    return refusal(
      'in-hand',
      `${label} is in hand already; who drives it must give it back first.`,
    );
  }
  train.handSpeed = take ? 0 : null;
  w.state.dispatching.due = true;
  w.follow({ kind: 'control', train: index });
  return null;
}

/**
 * The speed a crew asks for, mm/s. It is a wish: limits, the braking curve and the end of its authority cap it as they
 * cap a train that runs by itself.
 */
export function driveInHand(w: Writer, index: number, speed: number): Refusal | null {
  const train = w.train(index);
  const { file, topSpeed } = w.world.stock.trains[index]!;
  if (train.handSpeed === null) {
    return refusal('not-in-hand', `${file.label} is not in hand; take it first.`);
  }
  if (!Number.isInteger(speed) || speed < 0 || speed > topSpeed) {
    return refusal('bad-speed', `${file.label} runs at 0 to ${topSpeed} mm/s.`);
  }
  if (train.activity.kind === 'halted') {
    return refusal(
      'halted',
      `${file.label} was stopped: ${train.activity.why}. Let it go on first.`,
    );
  }
  train.handSpeed = speed;
  w.state.dispatching.due = true;
  w.follow({ kind: 'control', train: index });
  return null;
}

/** Everything was stopped: a train in hand stays so, but runs only when its crew asks anew. */
export function forgetHandSpeed(w: Writer, index: number): void {
  if (w.state.trains[index]!.handSpeed !== null) w.train(index).handSpeed = 0;
}

import type { Train } from '@blockbell/railway/track';
import type { Body, Simulation, Stretch, World } from '../state.js';
import { frontAt } from './motion.js';
import type { Way } from '../track/ways.js';

/** The stretches of a train from `from` to `to` mm behind its front, as a body of its own. */
export function stretchesOf(
  train: Train,
  firstLocomotive: number,
  from = 0,
  to: number = train.length,
): readonly Stretch[] {
  const stretches: Stretch[] = [{ kind: 'whole', from: 0, to: to - from, locomotive: -1 }];
  const add = (kind: Stretch['kind'], begin: number, end: number, locomotive: number): void => {
    const clipped = { from: Math.max(begin, from) - from, to: Math.min(end, to) - from };
    if (clipped.from < clipped.to) stretches.push({ kind, ...clipped, locomotive });
  };
  for (const extent of train.detected) add('axles', extent.from, extent.to, -1);
  train.locomotives.forEach(({ extent }, index) => {
    add('locomotive', extent.from, extent.to, firstLocomotive + index);
  });
  return stretches;
}

/** Index of a train's first locomotive; the others follow. */
export const firstLocomotiveOf = (world: World, train: number): number =>
  world.locomotives.findIndex((locomotive) => locomotive.train === train);

/** How far back from the body's front a point lies. */
export function offsetOf(body: Body, point: number): number {
  const stretch = body.stretches[point >> 1]!;
  return (point & 1) === 0 ? stretch.from : stretch.to;
}

/** Where the body's front and rear are on its path now. */
export function extentAt(
  body: Body,
  at: number,
): { readonly front: number; readonly rear: number } {
  const front = frontAt(body.motion, at);
  return { front, rear: front - body.length };
}

export const wayAt = ({ world }: Simulation, body: Body, step: number): Way =>
  world.track.ways[body.ways[step]!]!;

/** The part of a way that the body covers, measured from the leg's `from` port. */
export function coveredOf(
  way: Way,
  start: number,
  { front, rear }: { readonly front: number; readonly rear: number },
): { readonly from: number; readonly to: number } {
  const near = Math.max(0, rear - start);
  const far = Math.min(way.length, front - start);
  return way.along ? { from: near, to: far } : { from: way.length - far, to: way.length - near };
}

/** Sets each point's way and piece from where the front stands. A front end on a border lies behind it, a rear end beyond. */
export function locatePoints(simulation: Simulation, body: Body, front: number): void {
  const points = body.stretches.length * 2;
  body.stepOf.length = points;
  body.pieceOf.length = points;
  for (let point = 0; point < points; point += 1) {
    const place = front - offsetOf(body, point);
    const isRear = (point & 1) === 1;
    const reached = (border: number): boolean => (isRear ? place < border : place <= border);
    let step = 0;
    while (step < body.ways.length - 1 && !reached(body.starts[step + 1]!)) step += 1;
    const { pieces } = wayAt(simulation, body, step);
    let piece = 0;
    while (piece < pieces.length - 1 && !reached(body.starts[step]! + pieces[piece]!.to))
      piece += 1;
    body.stepOf[point] = step;
    body.pieceOf[point] = piece;
  }
}

/** Drops ways that no part of the body is on. */
export function trimWays(body: Body): void {
  const last = body.stepOf[0]!;
  body.ways.length = last + 1;
  body.starts.length = last + 1;
  const first = body.stepOf[1]!;
  if (first === 0) return;
  body.ways.splice(0, first);
  body.starts.splice(0, first);
  for (let point = 0; point < body.stepOf.length; point += 1) body.stepOf[point]! -= first;
}

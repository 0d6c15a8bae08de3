import type { Chain, Chains, Piece } from './chains.js';
import { isTurning } from './chains.js';

/** Distance between neighbouring rows, and the size of a turnout, in the file's drawing units. */
export const ROW = 24;
/** How far a turning block reaches. */
export const LOOP = 72;

/** From where to where a chain takes up its row, with the legs that lead to it. */
export interface Extent {
  readonly from: number;
  readonly to: number;
}

/** The port at which the element of a leg lies in its own row: a turnout's stem, a turning block's straight end. */
export function rowPort({ net }: Piece, { chainOf }: Chains, leg: number): number {
  const element = net.ports[leg]?.element ?? -1;
  for (const own of net.portsOf[element]?.values() ?? [])
    if (own !== leg && (chainOf[own] ?? -1) >= 0) return own;
  return -1;
}

/** `xOf`: about where each port will lie. */
export function extentOf(
  piece: Piece,
  found: Chains,
  { strands, from, to }: Chain,
  xOf: (port: number) => number,
): Extent {
  const turning = (element: number): boolean => piece.facing.turning.has(element);
  const joined = (leg: number, out: number): number =>
    xOf(rowPort(piece, found, leg)) + (isTurning(piece, leg) ? out * LOOP : 0);
  const [first, last] = [strands[0], strands.at(-1)];
  const ends = [
    from >= 0
      ? joined(from, -1)
      : first
        ? xOf(first.left >= 0 ? first.left : first.right) - (turning(first.element) ? LOOP : 0)
        : xOf(rowPort(piece, found, to)),
    to >= 0
      ? joined(to, 1)
      : last
        ? xOf(last.right >= 0 ? last.right : last.left) + (turning(last.element) ? LOOP : 0)
        : xOf(rowPort(piece, found, from)),
  ];
  return { from: Math.min(...ends), to: Math.max(...ends) };
}

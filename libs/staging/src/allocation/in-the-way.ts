import type { Berth, Stay } from './yard.js';

/** Whether both are there at some moment; one may come at the moment the other leaves. */
export const overlap = (one: Stay, other: Stay): boolean =>
  one.arrive < other.depart && other.arrive < one.depart;

/**
 * Of two trains that share a track, the one that the other keeps from leaving; null: neither does. `earlier` comes first.
 * The later one stands on the side it came in by: it is in the way of whoever leaves on that side before it, and the
 * earlier one is in its way if it leaves by the other side first. Who leave at one moment leave in the order that is possible.
 * In a dead-end track (all come in and leave by one end) that is the crossing of two stays, in a through track (in by one
 * end, out by the other) the nesting of one in the other.
 */
export function buriedOf(
  earlier: { readonly stay: Stay; readonly berth: Berth },
  later: { readonly stay: Stay; readonly berth: Berth },
): 'earlier' | 'later' | null {
  if (!overlap(earlier.stay, later.stay)) return null;
  if (earlier.stay.depart < later.stay.depart) {
    return earlier.berth.out === later.berth.in ? 'earlier' : null;
  }
  if (later.stay.depart < earlier.stay.depart) {
    return later.berth.out === later.berth.in ? null : 'later';
  }
  return null;
}

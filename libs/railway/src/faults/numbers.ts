import { fault } from './fault.js';
import type { Fault } from './fault.js';

/** A fault when a measure is not above zero. */
export const checkPositive = (place: string, what: string, value: number, unit: string): Fault[] =>
  value > 0
    ? []
    : [fault(place, `${what} is ${value}${unit && ` ${unit}`}`, `enter a value above 0`)];

/** A fault when a value lies outside its range, limits included. */
export const checkRange = (
  place: string,
  what: string,
  value: number,
  least: number,
  greatest: number,
): Fault[] =>
  value >= least && value <= greatest
    ? []
    : [fault(place, `${what} is ${value}`, `enter a value from ${least} to ${greatest}`)];

/** A fault when a measure is below zero. */
export const checkNotNegative = (
  place: string,
  what: string,
  value: number,
  unit: string,
): Fault[] =>
  value >= 0
    ? []
    : [fault(place, `${what} is ${value}${unit && ` ${unit}`}`, `enter 0 or a value above it`)];

/** Faults for entries whose key an earlier entry has: "the address 3 is already used by …". */
export function checkTwice<T>(
  entries: readonly T[],
  keyOf: (entry: T) => string,
  placeOfEntry: (entry: T, index: number) => string,
  what: string,
  mend: string,
): Fault[] {
  const first = new Map<string, string>();
  return entries.flatMap((entry, index) => {
    const key = keyOf(entry);
    const place = placeOfEntry(entry, index);
    const earlier = first.get(key);
    if (earlier !== undefined) {
      return [fault(place, `the ${what} ${key} is already used by ${earlier}`, mend)];
    }
    first.set(key, place);
    return [];
  });
}

import { ID_PATTERN } from '../ids.js';
import { fault, placeOf } from './fault.js';
import type { Fault } from './fault.js';

/** A list of a file whose entries have ids. */
export interface NamedList {
  /** Path of the list in the file. */
  readonly path: string;
  readonly entries: readonly { readonly id: string }[];
}

/** Ids that are badly formed, or that stand twice in lists which share their names. */
export function checkIdentifiers(...lists: readonly NamedList[]): Fault[] {
  const faults: Fault[] = [];
  const firstPlace = new Map<string, string>();
  for (const { path, entries } of lists) {
    entries.forEach(({ id }, index) => {
      const place = placeOf(path, index, id);
      if (!ID_PATTERN.test(id)) {
        faults.push(
          fault(
            place,
            `"${id}" is no valid id`,
            'begin with a letter, then use letters, digits, "-", "_" or "."; at most 40 characters',
          ),
        );
      }
      const first = firstPlace.get(id);
      if (first === undefined) firstPlace.set(id, place);
      else
        faults.push(fault(place, `the id ${id} is already used by ${first}`, 'give it another id'));
    });
  }
  return faults;
}

/** A fault for a reference to something that doesn't exist; none when it does. */
export const checkReference = (
  known: { has(id: string): boolean },
  id: string,
  what: string,
  place: string,
): Fault[] =>
  known.has(id)
    ? []
    : [fault(place, `there is no ${what} ${id}`, `correct the name or add the ${what}`)];

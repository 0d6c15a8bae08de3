import type { Fault } from '@blockbell/railway';
import type { z } from 'zod';

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

/** Everything a schema found wrong, in words, each with its place in the file. */
export const schemaFaults = (json: unknown, issues: readonly Issue[]): readonly Fault[] =>
  issues.flatMap((issue) => describe(json, issue, []));

function describe(json: unknown, issue: Issue, base: Path): readonly Fault[] {
  const path = [...base, ...issue.path];
  const place = placeText(json, path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        place,
        text: `there is no field "${key}" here`,
        mend: 'correct its name or remove it',
      }));
    case 'invalid_union': {
      // Of several shapes the one that fits best is meant, and its faults are named.
      const [closest] = [...issue.errors].sort((left, right) => left.length - right.length);
      if (closest !== undefined) return closest.flatMap((inner) => describe(json, inner, path));
      const options = 'options' in issue && Array.isArray(issue.options) ? issue.options : [];
      return [mustBe(json, path, oneOf(options))];
    }
    case 'invalid_value':
      return [mustBe(json, path, oneOf(issue.values))];
    case 'invalid_type':
      return [mustBe(json, path, TYPE_WORDS[issue.expected] ?? issue.expected)];
    default:
      return [{ place, text: issue.message, mend: 'correct the value' }];
  }
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  int: 'a whole number',
  number: 'a number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list of two',
  object: 'an object',
  record: 'an object',
};

const oneOf = (values: readonly unknown[]): string =>
  values.map((value) => JSON.stringify(value)).join(' or ');

function mustBe(json: unknown, path: Path, what: string): Fault {
  const place = placeText(json, path);
  const found = valueAt(json, path);
  return found === undefined
    ? { place, text: 'this field is missing', mend: `add it: ${what}` }
    : { place, text: `${shorten(found)} is not ${what}`, mend: `enter ${what}` };
}

function shorten(value: unknown): string {
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object' && value !== null) return 'an object';
  return JSON.stringify(value);
}

function valueAt(json: unknown, path: Path): unknown {
  let at = json;
  for (const key of path) at = fieldOf(at, key);
  return at;
}

const fieldOf = (value: unknown, key: PropertyKey): unknown =>
  typeof value === 'object' && value !== null
    ? Object.entries(value).find(([name]) => name === String(key))?.[1]
    : undefined;

/** A path as people read it: `elements[12] T4.drive.address`, with the id of list entries that have one. */
function placeText(json: unknown, path: Path): string {
  let place = '';
  let at = json;
  for (const key of path) {
    at = fieldOf(at, key);
    if (typeof key === 'number') {
      const id = fieldOf(at, 'id');
      place += typeof id === 'string' ? `[${key}] ${id}` : `[${key}]`;
    } else place += place === '' ? String(key) : `.${String(key)}`;
  }
  return place === '' ? 'file' : place;
}

/**
 * Damage to a file, of the kinds people do: `where` something is left out (`how` 0), doubled (1), exchanged for a
 * text from elsewhere (2, `from`) or made negative (3).
 */
export type Damage = readonly [where: number, how: number, from: number];

interface Place {
  readonly parent: Record<string, unknown> | unknown[];
  readonly key: string;
  readonly value: unknown;
}

function placesIn(value: unknown): Place[] {
  if (typeof value !== 'object' || value === null) return [];
  const parent = value as Record<string, unknown>;
  return Object.entries(parent).flatMap(([key, inner]) => [
    { parent, key, value: inner },
    ...placesIn(inner),
  ]);
}

/** A damaged copy that still has the shape its type demands: entries of lists, texts and numbers change, fields stay. */
export function damaged<T>(file: T, damage: readonly Damage[]): T {
  const copy = structuredClone(file);
  for (const [where, how, from] of damage) {
    const places = placesIn(copy);
    if (how < 2) {
      const entries = places.filter(
        ({ parent, key }) => Array.isArray(parent) && !isPair(parent, key),
      );
      const entry = entries[where % Math.max(1, entries.length)];
      if (entry === undefined || !Array.isArray(entry.parent)) continue;
      if (how === 0) entry.parent.splice(Number(entry.key), 1);
      else entry.parent.push(structuredClone(entry.value));
    } else {
      const type = how === 2 ? 'string' : 'number';
      const free = places.filter(
        ({ key, value }) => typeof value === type && !FIXED.has(key) && !isEnum(value),
      );
      const target = free[where % Math.max(1, free.length)];
      const source = free[from % Math.max(1, free.length)];
      if (target === undefined || source === undefined) continue;
      Object.assign(target.parent, {
        [target.key]: how === 2 ? source.value : -Number(target.value),
      });
    }
  }
  return copy;
}

/** Fields whose values a type fixes. */
const FIXED = new Set([
  'kind',
  'version',
  'directions',
  'polarity',
  'by',
  'facing',
  'class',
  'towards',
  'stop',
]);
const isEnum = (value: unknown): boolean => value === 'normal' || value === 'reversed';
/** Joins and points are pairs; leaving out half of one changes its shape. */
const isPair = (parent: unknown[], key: string): boolean =>
  parent.length === 2 && parent.every((it) => typeof it !== 'object') && Number(key) < 2;

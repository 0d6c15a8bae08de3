import type { ElementFile, ElementKind } from '../layout/layout-file.js';
import type { Layout, Route } from '../layout/layout.js';

/** True for names and units, false for literals: only a literal makes a record with a required key. */
type IsOpen<T extends string | number> = {} extends Record<T, unknown> ? true : false;

/** A type whose fields may be changed, however deep; names and units become plain texts and numbers. */
export type Mutable<T> = T extends string
  ? IsOpen<T> extends true
    ? string
    : T
  : T extends number
    ? IsOpen<T> extends true
      ? number
      : T
    : T extends boolean | null | undefined
      ? T
      : { -readonly [K in keyof T]: Mutable<T[K]> };

/** A part made for a file, to be put into a copy that may be changed. */
export const mutable = <T>(part: T): Mutable<T> => part as Mutable<T>;

/** A copy of a file with something changed, most often for the worse. */
export function edited<T>(file: T, change: (copy: Mutable<T>) => void): T {
  const copy = structuredClone(file) as Mutable<T>;
  change(copy);
  return copy as T;
}

/** The element of this id and kind, to be changed. */
export function elementOf<K extends ElementKind>(
  file: { elements: Mutable<readonly ElementFile[]> },
  id: string,
  kind: K,
): Mutable<Extract<ElementFile, { kind: K }>> {
  const found = file.elements.find((it) => it.id === id);
  if (found?.kind !== kind) throw new Error(`no ${kind} ${id}`);
  return found as Mutable<Extract<ElementFile, { kind: K }>>;
}

/** The route of this id. */
export function routeOf(layout: Layout, id: string): Route {
  const found = layout.routes.find((it) => it.id === id);
  if (found === undefined) {
    throw new Error(`no route ${id} among ${layout.routes.map((it) => it.id).join(' ')}`);
  }
  return found;
}

/** The number of an element. */
export function indexOf(layout: Layout, id: string): number {
  const found = layout.elementByName.get(id);
  if (found === undefined) throw new Error(`no element ${id}`);
  return found;
}

export const routeIds = (layout: Layout): string[] => layout.routes.map((it) => it.id).sort();

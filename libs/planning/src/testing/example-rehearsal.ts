import { exampleFiles, type ExampleName } from '@blockbell/examples';
import type { compileWorld } from '@blockbell/railway';
import { Rehearsal } from '@blockbell/rehearsal';

type Files = Parameters<typeof compileWorld>;

/** Layout, stock and timetable of an example. */
export function filesOf(name: ExampleName): Files {
  const { layout, stock, timetable } = exampleFiles(name);
  return [layout, stock, timetable].map((text) => JSON.parse(text)) as Files;
}

/** A rehearsal in which nothing has happened yet. */
export const rehearsalOf = ([layout, stock, timetable]: Files, seed: number): Rehearsal =>
  new Rehearsal({ layout, stock, timetable, seed });

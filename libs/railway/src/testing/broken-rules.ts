import { setDrive } from '../interlocking/turnout-proof.js';
import type { Route } from '../layout/layout.js';
import type { Writer } from '../session/writer.js';

/** Flank protection that doesn't ask whether anybody holds the protecting turnout. */
export function runsOver(w: Writer, _train: number, route: Route): void {
  for (const { by } of route.flank) {
    if (by.kind === 'turnout') setDrive(w, by.element, by.position);
  }
}

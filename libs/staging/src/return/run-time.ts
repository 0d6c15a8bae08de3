import { blockOf, mm, mmPerS, runningTime, type Layout, type Train } from '@blockbell/railway';
import type { Run, Standing } from './train-mover.js';

/** From the command until a train has set out, and until its rest is noticed, physical ms; as planning takes them. */
const STARTING = 3300;

/** How long a run is expected to take, physical ms: turnouts thrown, then run under the lowest limit of each step. */
export function timeOfRun(layout: Layout, train: Train, from: Standing, run: Run): number {
  const steps = run.routes.flatMap((route) => layout.routes[route]!.steps);
  const mark = (heading: number): number =>
    layout.elements[blockOf(heading)]!.stopMarks[heading & 1]!;
  const stretches = [
    ...(run.turns ? [] : [{ length: mm(mark(from.heading)), limit: train.topSpeed }]),
    ...steps.map(({ leg }) => ({
      length: leg.length,
      limit: mmPerS(Math.min(leg.speedLimit ?? train.topSpeed, train.topSpeed)),
    })),
  ];
  const last = stretches.pop()!;
  const beyond = { ...last, length: mm(Math.max(0, last.length - mark(run.to.heading))) };
  const thrown = steps.map(({ element, leg }) =>
    leg.position === null ? 0 : (layout.elements[element]!.drive?.throwTime ?? 0),
  );
  return STARTING + Math.max(0, ...thrown) + runningTime([...stretches, beyond], train);
}

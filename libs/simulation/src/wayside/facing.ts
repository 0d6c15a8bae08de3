import type { Simulation } from '../state.js';
import { wayAt } from '../train/body.js';

/** Towards which end of its block a locomotive's front looks; null where it stands on no block that the section sees. */
export function facingIn(
  simulation: Simulation,
  section: number,
  locomotive: number,
): 'a' | 'b' | null {
  const { state, world } = simulation;
  const { elements } = world.layout.sections[section]!;
  const { facingForward } = world.locomotives[locomotive]!;
  const body = state.bodies.find(
    (it) => it.present && it.stretches.some((stretch) => stretch.locomotive === locomotive),
  );
  if (body === undefined) return null;
  for (let step = 0; step < body.ways.length; step += 1) {
    const { element, along } = wayAt(simulation, body, step);
    if (world.layout.elements[element]!.kind !== 'block' || !elements.includes(element)) continue;
    return along === facingForward ? 'b' : 'a';
  }
  return null;
}

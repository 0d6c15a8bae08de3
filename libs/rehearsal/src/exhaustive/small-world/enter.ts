import type { SmallState } from './small-state.js';
import type { SmallWorld } from './small-world.js';

/** A body's head goes on into the next element: whichever way the drives there lie, whether that is right or not. */
export function enter(small: SmallWorld, state: SmallState, train: number): void {
  const { layout } = small.world;
  const body = state.bodies[train]!;
  const last = body.line.at(-1)!;
  const left = layout.elements[last.element]!;
  const leg = left.legs[last.leg]!;
  const label = small.world.stock.trains[train]!.file.label;
  const joint = small.track.beyond(last.element, last.along ? leg.to : leg.from);
  const next = joint === null ? null : layout.elements[joint.element]!;
  if (joint === null || next === null || next.legs.length === 0) {
    state.mishaps.push({
      invariant: 1,
      text: `${label} struck the end of the track at ${left.id}`,
    });
    Object.assign(body, { head: last.end, speed: 0, target: 0, orders: [] });
    return;
  }
  for (const { zone, polarity } of joint.gaps) {
    const lies = state.drives[zone]!;
    if (lies.moving === null && lies.position === polarity) continue;
    const text = `${label} crossed a gap of ${layout.elements[zone]!.id} that is not ${polarity}`;
    state.mishaps.push({ invariant: 2, text });
  }
  const drive = state.drives[next.index] ?? null;
  const open = next.legs
    .map((it, index) => ({ ...it, index, along: it.from === joint.port }))
    .filter(({ from, to }) => from === joint.port || to === joint.port);
  const set = open.find(
    ({ position }) => position === null || drive === null || position === drive.position,
  );
  if (set === undefined || (drive?.moving ?? null) !== null) {
    const how = set === undefined ? `that lies ${drive!.position}` : 'while it moves';
    state.mishaps.push({ invariant: 2, text: `${label} ran into ${next.id} ${how}` });
  }
  const way = set ?? open[0]!;
  const { end: start } = last;
  body.line.push({
    element: next.index,
    leg: way.index,
    along: way.along,
    start,
    end: start + way.length * 1000,
  });
}

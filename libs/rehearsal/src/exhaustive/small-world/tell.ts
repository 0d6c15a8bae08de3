import type { DeviceEvent } from '@blockbell/railway';
import type { SmallState } from './small-state.js';
import type { SmallWorld } from './small-world.js';

/** How long a bus takes to say that it lives, ms. */
const BUS_SPEAKS = 50;

/**
 * Detectors whose reading has changed say so, each at a moment within its worst delay; those that hear decoders then report
 * which. `together`: all of them speak at one moment, in the order of their numbers, as they do when power comes.
 */
export function tellReadings(
  small: SmallWorld,
  state: SmallState,
  together?: { readonly at: number; readonly lane: string },
): void {
  if (!state.powered.every((on) => on)) return;
  const truth = small.occupied(state);
  small.world.layout.sections.forEach(({ index, detector }) => {
    const lost = state.dropouts.some(({ section }) => section === index);
    const occupied = truth[index]! && !lost;
    if (state.readings[index] === occupied) return;
    state.readings[index] = occupied;
    const { worstDelay } = detector;
    const delay = occupied ? worstDelay.occupied : worstDelay.free;
    send(state, { kind: 'section', section: index, occupied }, index, delay, together);
    if (!occupied || !detector.reportsIdentity) return;
    const decoders = decodersIn(small, state, index);
    if (decoders.length === 0) return;
    send(state, { kind: 'report', section: index, decoders }, index, worstDelay.report, together);
  });
}

function send(
  state: SmallState,
  event: DeviceEvent,
  section: number,
  delay: number,
  together?: { readonly at: number; readonly lane: string },
): void {
  const lane = together?.lane ?? `section-${section}`;
  const from = together?.at ?? state.now;
  const before = state.messages.findLast((it) => it.lane === lane)?.until ?? 0;
  const until = together?.at ?? Math.max(state.now + delay, before);
  state.messages.push({ event, from, until, lane });
}

/** Decoders that answer in a section: of the trains with axles in it that have any. */
function decodersIn(
  small: SmallWorld,
  state: SmallState,
  section: number,
): { kind: 'short' | 'long'; number: number }[] {
  return state.bodies.flatMap((body, train) => {
    if (body === null || !small.under(state, train).includes(section)) return [];
    return small.world.stock.trains[train]!.locomotives.flatMap(({ file }) =>
      file.answers ? [file.address] : [],
    );
  });
}

/** Everybody is asked: buses say that they live, drives with feedback how they lie. */
export function tellAll({ world }: SmallWorld, state: SmallState): void {
  const at = state.now + BUS_SPEAKS;
  const lane = 'state';
  for (const { id } of world.layout.file.buses) {
    const event = { kind: 'bus', bus: id, alive: true } as const;
    state.messages.push({ event, from: at, until: at, lane });
  }
  state.drives.forEach((drive, element) => {
    if (drive === null || drive.moving !== null) return;
    if (!world.layout.elements[element]!.drive!.feedback) return;
    const event = { kind: 'drive', element, position: drive.position } as const;
    state.messages.push({ event, from: at, until: at, lane });
  });
}

import type { DeviceEvent } from '@blockbell/railway/track';
import { push } from '../event-queue.js';
import type { MessageFault } from '../faults/fault.js';
import { nextBetween, nextChance } from '../random.js';
import type { RandomStream } from '../random.js';
import type { Delivery, FaultState, Simulation } from '../state.js';

export type Channel = 'edges' | 'reports';

/** When a message may arrive, ms. */
export interface Window {
  readonly earliest: number;
  readonly latest: number;
}

/** From a fact at `at` to at most `worst` ms later, in whole ms. */
export const within = (at: number, worst: number, least = 0): Window => ({
  earliest: Math.ceil(at + least),
  latest: Math.floor(at + Math.max(worst, least)),
});

/** Sends a section's message; faults of the message path may delay, lose, double or overtake it. */
export function sendFromSection(
  simulation: Simulation,
  section: number,
  channel: Channel,
  event: DeviceEvent,
  window: Window,
  stream: RandomStream,
): void {
  let at = nextBetween(stream, window.earliest, window.latest);
  let copies = 1;
  let inOrder = true;
  for (const state of simulation.state.faults) {
    const fault = messageFaultOn(state, section, channel);
    if (fault === null) continue;
    if (fault.kind === 'late') at += nextBetween(state.stream, 0, fault.by);
    if (fault.kind === 'lost' && nextChance(state.stream, fault.permille)) return;
    if (fault.kind === 'duplicated' && nextChance(state.stream, fault.permille)) copies = 2;
    if (fault.kind === 'reordered') inOrder = false;
  }
  for (let copy = 0; copy < copies; copy += 1) {
    if (inOrder) queueInOrder(simulation, section, channel, { at: at + copy, event });
    else push(simulation.state.queue, { at: at + copy, kind: 'message', event });
  }
}

/** A message that is not a section's; it arrives at `at` whatever happens. */
export const sendAt = ({ state }: Simulation, at: number, event: DeviceEvent): void =>
  push(state.queue, { at, kind: 'message', event });

/** Hands out the section's messages that are due. */
export function deliverSection({ state }: Simulation, section: number, channel: Channel): void {
  const pending = state.sections[section]![channel];
  while (pending.length > 0 && pending[0]!.at <= state.now) {
    state.delivered.push({ at: state.now, event: pending.shift()!.event });
  }
}

/** First in, first out: a message that would overtake earlier ones takes them along. */
function queueInOrder(
  { state }: Simulation,
  section: number,
  channel: Channel,
  message: Delivery,
): void {
  const pending = state.sections[section]![channel];
  for (let place = pending.length - 1; place >= 0; place -= 1) {
    const earlier = pending[place]!;
    if (earlier.at <= message.at) break;
    pending[place] = { at: message.at, event: earlier.event };
  }
  pending.push(message);
  push(state.queue, { at: message.at, kind: channel, section });
}

function messageFaultOn(
  { fault, active }: FaultState,
  section: number,
  channel: Channel,
): MessageFault | null {
  if (!active) return null;
  switch (fault.kind) {
    case 'late':
    case 'lost':
    case 'duplicated':
    case 'reordered': {
      const here = fault.section === null || fault.section === section;
      return here && (fault.messages === 'both' || fault.messages === channel) ? fault : null;
    }
    default:
      return null;
  }
}

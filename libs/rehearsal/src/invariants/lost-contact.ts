import type { Section } from '@blockbell/railway';
import type { SimulatedLayout } from '@blockbell/simulation';

/** Messages may come so much later than declared, ms. */
const LATER = 250;

/**
 * Whether a section has lost contact, until now or just before, for longer than its hold-off bridges when the messages
 * are as late as they may be: then it may have read free with a train in it. Lost contacts that overlap are one.
 */
export function lostContact(
  { detector: { holdOff, worstDelay }, index }: Section,
  { faults, now }: SimulatedLayout['truth'],
): boolean {
  const spans = faults
    .flatMap(({ fault }) =>
      fault.kind === 'dropout' && fault.section === index
        ? [{ from: fault.at, to: fault.at + (fault.duration ?? Infinity) }]
        : [],
    )
    .sort((a, b) => a.from - b.from);
  let from = -Infinity;
  let to = -Infinity;
  for (const span of spans) {
    if (span.from > now) break;
    if (span.from > to) from = span.from;
    to = Math.max(to, span.to);
  }
  const longest = holdOff - worstDelay.occupied - LATER;
  return to - from >= longest && now - to <= worstDelay.occupied + LATER;
}

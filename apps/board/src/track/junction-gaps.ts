import type { Leg } from '@blockbell/railway';

/** How much of a leg the gap takes at an end where it isn't joined. */
const GAP = 0.38;

/** The part of a leg that is drawn, as fractions from its `from` to its `to` port. */
export interface DrawnPart {
  readonly from: number;
  readonly to: number;
}

/**
 * The legs of a turnout, slip or crossing as they are drawn at a position: a selected leg whole; another with a
 * gap at each port that several legs share. Legs that nothing sets (a crossing's) are always whole; while the
 * position isn't known, no leg is joined.
 */
export function gapsOf(legs: readonly Leg[], position: string | null): readonly DrawnPart[] {
  const uses = new Map<string, number>();
  for (const { from, to } of legs)
    for (const port of [from, to]) uses.set(port, (uses.get(port) ?? 0) + 1);
  const shared = (port: string): boolean => (uses.get(port) ?? 0) > 1;
  return legs.map((leg) => {
    if (leg.position === null || leg.position === position) return { from: 0, to: 1 };
    return { from: shared(leg.from) ? GAP : 0, to: shared(leg.to) ? 1 - GAP : 1 };
  });
}

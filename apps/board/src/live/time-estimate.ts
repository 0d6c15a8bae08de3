/** When the last message said what physical time it was. */
export interface TimeAnchor {
  /** Physical ms of the session, as the message said. */
  readonly now: number;
  /** Wall-clock ms (monotonic) at which it arrived. */
  readonly receivedAt: number;
  /** Physical ms per wall-clock ms. */
  readonly pace: number;
}

/**
 * Physical time at the wall-clock moment `wall`, going on from the last message. `frozenAt`: the moment the
 * connection was lost; the picture does not pretend to know more than was heard.
 */
export function physicalNow(anchor: TimeAnchor, wall: number, frozenAt: number | null): number {
  const until = frozenAt === null ? wall : Math.min(wall, frozenAt);
  return anchor.now + Math.max(0, until - anchor.receivedAt) * anchor.pace;
}

/** How the board is connected, by the monotonic wall clock. */
export interface LinkFacts {
  readonly connected: boolean;
  /** When the connection was lost; null while it stands or before there was one. */
  readonly lostAt: number | null;
  /** When a snapshot was asked for that has not come yet. */
  readonly resyncAskedAt: number | null;
}

/** How long a snapshot may take before the picture counts as stale, ms. */
export const RESYNC_PATIENCE = 2000;

/** Since when the picture is stale, or null while it is fresh. */
export function staleSince(link: LinkFacts, wall: number): number | null {
  if (!link.connected) return link.lostAt;
  const asked = link.resyncAskedAt;
  return asked !== null && wall - asked > RESYNC_PATIENCE ? asked : null;
}

import { describe, expect, it } from 'vitest';
import { physicalNow, RESYNC_PATIENCE, staleSince } from './time-estimate.js';

describe('physical time between messages', () => {
  const anchor = { now: 60_000, receivedAt: 1000, pace: 10 };

  it('goes on at the pace of the simulated layout', () => {
    expect(physicalNow(anchor, 1000, null)).toBe(60_000);
    expect(physicalNow(anchor, 1500, null)).toBe(65_000);
  });

  it('stands still from the moment the connection was lost', () => {
    expect(physicalNow(anchor, 9000, 1200)).toBe(62_000);
  });

  it('never goes back behind the last message', () => {
    expect(physicalNow(anchor, 900, null)).toBe(60_000);
    expect(physicalNow(anchor, 9000, 800)).toBe(60_000);
  });
});

describe('a stale picture', () => {
  const link = { connected: true, lostAt: null, resyncAskedAt: null };

  it('is fresh while connected', () => {
    expect(staleSince(link, 5000)).toBeNull();
  });

  it('is stale since the connection was lost', () => {
    expect(staleSince({ ...link, connected: false, lostAt: 3000 }, 5000)).toBe(3000);
  });

  it('is not called stale before there was any picture', () => {
    expect(staleSince({ ...link, connected: false }, 5000)).toBeNull();
  });

  it('is stale when a snapshot that was asked for stays away', () => {
    const asked = { ...link, resyncAskedAt: 3000 };
    expect(staleSince(asked, 3000 + RESYNC_PATIENCE)).toBeNull();
    expect(staleSince(asked, 3001 + RESYNC_PATIENCE)).toBe(3000);
  });
});

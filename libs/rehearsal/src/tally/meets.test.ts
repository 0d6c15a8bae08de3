import type { Layout } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { Meets } from './meets.js';

/**
 * A line with a station of two tracks (blocks 1 and 2) between the single-track blocks 0 and 3, and beyond 3 a second
 * station with the tracks 4 and 5. Only what the count looks at.
 */
const layout = {
  elements: [0, 1, 2, 3, 4, 5].map((index) => ({ index })),
  stations: [
    { index: 0, tracks: [{ blocks: [1] }, { blocks: [2] }] },
    { index: 1, tracks: [{ blocks: [4] }, { blocks: [5] }] },
  ],
} as unknown as Layout;

function meetsOf(start: readonly number[], ...moves: readonly [number, number, number][]): number {
  const meets = new Meets(layout, start);
  for (const [train, from, to] of moves) meets.move({ train, from, to });
  return meets.count;
}

describe('a meet on single track', () => {
  it('is counted once when each train goes where the other came from', () => {
    expect(meetsOf([0, 3], [0, 0, 1], [1, 3, 2], [0, 1, 3], [1, 2, 0])).toBe(1);
  });

  it('is none when trains follow one another', () => {
    expect(meetsOf([0, -1], [0, 0, 1], [1, -1, 0], [0, 1, 3], [1, 0, 2], [1, 2, 3])).toBe(0);
  });

  it('is none when the other train has left before', () => {
    expect(meetsOf([0, 3], [1, 3, 2], [1, 2, 0], [0, 0, 1], [0, 1, 3])).toBe(0);
  });

  it('is none where the trains are at different stations', () => {
    expect(meetsOf([0, 3], [0, 0, 1], [1, 3, 4], [0, 1, 3])).toBe(0);
  });

  it('is still one when a train changes track in the station', () => {
    expect(meetsOf([0, 3], [0, 0, 1], [1, 3, 2], [1, 2, 1], [0, 1, 3])).toBe(1);
  });
});

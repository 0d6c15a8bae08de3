import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import type { Heading, Layout } from '../layout/layout.js';
import { balloonLoop, passingLoop } from '../testing/layout-parts.js';
import { DistanceTables } from './distance-tables.js';
import { HeadingQueue } from './heading-queue.js';

/** Reference: relaxes every route again and again until nothing changes. */
function relaxed(layout: Layout, targets: readonly Heading[]): number[] {
  const distances = layout.routesFrom.map((_, heading) =>
    targets.includes(heading) ? 0 : Infinity,
  );
  for (let changed = true; changed;) {
    changed = false;
    for (const { from, to, length } of layout.routes) {
      if (distances[to]! + length < distances[from]!) {
        distances[from] = distances[to]! + length;
        changed = true;
      }
    }
  }
  return distances;
}

describe('distance tables', () => {
  it.each([
    ['a passing loop', compileLayout(passingLoop())],
    ['a balloon loop', compileLayout(balloonLoop())],
  ])('are the shortest distances on %s', (_, layout) => {
    const tables = new DistanceTables(layout);
    const blocks = layout.blockSteps.flatMap((step, heading) => (step === null ? [] : [heading]));
    fc.assert(
      fc.property(fc.subarray(blocks), (targets) => {
        expect([...tables.to(targets)]).toEqual(relaxed(layout, targets));
        expect(tables.to([...targets].reverse())).toBe(tables.to(targets));
      }),
    );
  });
});

describe('heading queue', () => {
  it('gives headings in the order of their least distances', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 19 }), fc.integer({ min: 0, max: 50 }))),
        (pushes) => {
          const distances = new Float64Array(20).fill(Infinity);
          const queue = new HeadingQueue(distances);
          for (const [heading, distance] of pushes) {
            if (distance >= distances[heading]!) continue;
            distances[heading] = distance;
            queue.push(heading);
          }
          const expected = [...distances.keys()]
            .filter((heading) => distances[heading]! < Infinity)
            .sort((a, b) => distances[a]! - distances[b]! || a - b);
          const got: number[] = [];
          for (let next = queue.pop(); next >= 0; next = queue.pop()) got.push(next);
          expect(got).toEqual(expected);
        },
      ),
    );
  });
});
